#include "runtime/control/keys.hpp"

#include <algorithm>
#include <fmt/format.h>

#include "runtime/ascii.hpp"

namespace tallow::runtime {
namespace {

using What = Key::What;

constexpr unsigned small_step = 5, large_step = 25;    // percent
constexpr std::uint64_t level_shown_ns = 500'000'000;  // by then the view has what was asked for
constexpr std::size_t longest_number = 12;

Level as_level(unsigned percent) {
    return static_cast<Level>((percent * std::uint32_t{full} + 50) / 100);
}

// The next multiple of a step beyond a level, in percent.
unsigned beyond(Level level, unsigned step, bool up) {
    const std::uint32_t hundredfold = std::uint32_t{level} * 100, nearest = (hundredfold + full / 2) / full;
    const bool whole = as_level(nearest) == level;
    if (up) return std::min(((whole ? nearest : hundredfold / full) / step + 1) * step, 100u);
    const std::uint32_t above = whole ? nearest : hundredfold / full + 1;
    return above == 0 ? 0 : (above - 1) / step * step;
}

}  // namespace

std::vector<Pressed> Keys::take(std::string_view bytes, std::uint64_t ns, const View& view) {
    view_ = &view;
    ns_ = ns;
    const std::size_t lists = view.roll == nullptr ? 0 : view.roll->lists.size();
    if (list_ >= lists) list_ = 0;
    list_name_ = lists > 1 ? view.roll->lists[list_].name : "";
    if (view.roll == nullptr || submaster_ >= view.roll->submasters.size()) submaster_ = none;
    if (asking_ != Asking::nothing && ns - asked_ns_ >= lapse_ns) asking_ = Asking::nothing;
    for (const Key& key : bytes_.take(bytes, ns)) press(key);
    view_ = nullptr;
    return std::exchange(out_, {});
}

void Keys::press(const Key& key) {
    if (asking_ != Asking::nothing && answer(key)) return;
    switch (key.what) {
        case What::sign:
            return sign(small_letter(key.sign));
        case What::control_c:
            return ask(Asking::quit);
        case What::control_l:
            return out_.push_back({Pressed::What::anew, ""});
        case What::escape:
            help_ = false;
            return;
        case What::up:
        case What::down:
            return move(small_step, key.what == What::up);
        case What::page_up:
        case What::page_down:
            return move(large_step, key.what == What::page_up);
        case What::left:
        case What::right:
            return choose_beside(key.what == What::right);
        case What::enter:
        case What::backspace:
            return;
    }
}

void Keys::sign(char c) {
    if (c == 'q') return ask(Asking::quit);
    if (c == '?') {
        if (!again(c, go_pause_ns)) help_ = !help_;
        return;
    }
    if (view_->roll == nullptr) return of_frames();
    if (is_digit(c)) return choose_number(c);
    switch (c) {
        case ' ':
            if (!again(c, go_pause_ns)) command("go" + of_list());
            return;
        case 'b':
            if (!again(c, go_pause_ns)) command("back" + of_list());
            return;
        case 'h':
            if (!again(c, switch_pause_ns)) command("hold");
            return;
        case 'k':
        case 'x':
        case 'p':
            return switch_over(c);
        case 'c':
            return ask(Asking::cue);
        case 's':
            return ask(Asking::stop);
        case 'l':
            return choose_list();
        case 'g':
            grand_ = true;
            return;
        default:
            return;
    }
}

// What is on goes off; said outright, so that a view that is late does no harm.
void Keys::switch_over(char c) {
    if (again(c, switch_pause_ns)) return;
    const Progress& now = view_->progress;
    if (c == 'p') return command(now.paused ? "resume" : "pause");
    if (c == 'k') return command(now.show.blackout ? "blackout off" : "blackout on");
    command(now.show.panic ? "panic off" : "panic on");
}

// Whether the key was for the question. Any other one takes the question away and does what it always does: a
// GO that is called must not be lost.
bool Keys::answer(const Key& key) {
    asked_ns_ = ns_;
    if (asking_ == Asking::cue) {
        if (key.what == What::sign && (is_digit(key.sign) || key.sign == '.')) {
            if (number_.size() < longest_number) number_ += key.sign;
            return true;
        }
        if (key.what == What::backspace && !number_.empty()) {
            number_.pop_back();
            return true;
        }
    }
    if (key.what == What::enter) confirm();
    asking_ = Asking::nothing;
    return key.what == What::enter || key.what == What::escape || key.what == What::backspace;
}

void Keys::confirm() {
    if (asking_ == Asking::quit) out_.push_back({Pressed::What::quit, ""});
    if (asking_ == Asking::stop) command("stop" + of_list());
    if (asking_ == Asking::cue && !number_.empty()) command("cue " + number_ + of_list());
}

void Keys::choose_list() {
    const auto lists = static_cast<std::uint32_t>(view_->roll->lists.size());
    if (lists == 1) return notice("the show has one cue list only");
    if (again('l', go_pause_ns)) return;
    list_ = (list_ + 1) % lists;
    list_name_ = view_->roll->lists[list_].name;
}

// The submaster with the number that is being typed, as soon as there is one.
void Keys::choose_number(char digit) {
    if (!has_submasters()) return;
    if (ns_ - digit_ns_ >= digits_ns || digits_.size() >= longest_number) digits_.clear();
    digit_ns_ = ns_;
    digits_ += digit;
    bool more = false;
    for (std::uint32_t i = 0; i < view_->roll->submasters.size(); ++i) {
        const std::string number = std::to_string(view_->roll->submasters[i].number);
        more = more || number.starts_with(digits_);
        if (number != digits_) continue;
        submaster_ = i;
        grand_ = false;
    }
    if (!more) notice(fmt::format("there is no submaster {}", std::exchange(digits_, "")));
}

void Keys::choose_beside(bool right) {
    if (view_->roll == nullptr) return of_frames();
    if (!has_submasters()) return;
    const auto count = static_cast<std::uint32_t>(view_->roll->submasters.size());
    if (submaster_ == none)
        submaster_ = right ? 0 : count - 1;
    else if (!grand_)
        submaster_ = (submaster_ + (right ? 1 : count - 1)) % count;
    grand_ = false;
}

void Keys::move(unsigned step, bool up) {
    if (view_->roll == nullptr) return of_frames();
    const Standing& show = view_->progress.show;
    const auto count = static_cast<std::uint32_t>(view_->roll->submasters.size());
    if (!grand_ && submaster_ == none) {
        if (!again('^', go_pause_ns))
            notice(fmt::format("choose first what goes up or down: {}`g`, the grand master",
                               count == 0 ? "" : "a submaster by its number, or left and right, or "));
        return;
    }
    const std::uint32_t which = grand_ ? count : submaster_;
    const bool late = asked_of_ == which && ns_ - asked_level_ns_ < level_shown_ns;
    const Level level = late ? as_level(asked_percent_) : grand_ ? show.master : show.submasters[which];
    if (level == (up ? full : 0)) return;
    asked_percent_ = beyond(level, step, up);
    asked_of_ = which;
    asked_level_ns_ = ns_;
    if (grand_) return command(fmt::format("grand {}%", asked_percent_));
    command(fmt::format("submaster {} {}%", view_->roll->submasters[which].number, asked_percent_));
}

// Says so where the show has none.
bool Keys::has_submasters() {
    const bool has = !view_->roll->submasters.empty();
    if (!has && !again('#', go_pause_ns))
        notice("the show has no submasters; `g` chooses the grand master, which up and down move");
    return has;
}

// What comes of a key for a show while a frames file plays.
void Keys::of_frames() {
    if (!again('-', go_pause_ns))
        notice(
            "a frames file plays by its own times: no key does anything but `q`, which ends it, `?` and "
            "control L");
}

// Whether the key is one that is held down, or hit twice by mistake.
bool Keys::again(char c, std::uint64_t pause) {
    const bool held = latest_ == c && ns_ - latest_ns_ < pause;
    latest_ = c;
    latest_ns_ = ns_;
    return held;
}

void Keys::ask(Asking what) {
    asking_ = what;
    asked_ns_ = ns_;
    number_.clear();
}

std::string Keys::of_list() const {
    return list_name_.empty() ? "" : " " + list_name_;
}

std::string Keys::typed() const {
    switch (asking_) {
        case Asking::nothing:
            return "";
        case Asking::cue:
            return fmt::format("to cue {}_{} (enter: go there)", number_, of_list());
        case Asking::stop:
            return fmt::format("enter: stop{}, escape: not", of_list());
        case Asking::quit:
            return "enter: END the show, escape: not";
    }
    return "";
}

void Keys::show(View& view) const {
    view.typed = typed();
    view.list = list_;
    view.submaster = grand_ ? none : submaster_;
    view.grand = grand_;
    view.help = help_;
}

}  // namespace tallow::runtime
