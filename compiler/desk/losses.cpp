#include "compiler/desk/losses.hpp"

#include <algorithm>
#include <fmt/format.h>
#include <map>
#include <set>

#include "compiler/desk/dark.hpp"
#include "compiler/desk/looks.hpp"
#include "compiler/desk/sheet_words.hpp"
#include "compiler/text/counted.hpp"
#include "compiler/text/decimal.hpp"
#include "runtime/duration.hpp"

namespace tallow::desk {
namespace {

using runtime::format_duration;
using runtime::Kind;
using runtime::Timing;

std::string too_few_text(const ChaseSteps& s) {
    if (s.within()) return {};
    return s.needed == 0 ? "; no number of steps draws them within half a notch"
                         : fmt::format("; {} steps would be within half a notch", s.needed);
}

class Finder {
  public:
    Finder(const show::Show& show, track::Book& book, const show::Layout& layout, const Pictures& pictures,
           const Given& given)
        : show_(show),
          layout_(layout),
          pictures_(pictures),
          given_(given),
          masters_(masters_of(show, pictures, pictures.channels.size())),
          tracker_(show, book),
          book_(book),
          on_desk_(played()) {}

    std::vector<Loss> run() {
        remember();
        while (tracker_.next()) {
            cue_ = tracker_.index();
            picture_ = &pictures_.cues[cue_];
            waves();
            chases();
            times();
            start();
            jumps();
            moves_in_the_dark();
            settings();
            remember();
        }
        return std::move(losses_);
    }

  private:
    // What a parameter holds; whether it gives light, if it is an intensity.
    struct Before {
        runtime::Level level;
        Index wave;
        bool lit;
        bool operator==(const Before&) const = default;
    };

    void add(const char* kind, std::string text) { losses_.push_back({cue_, kind, std::move(text)}); }

    std::uint32_t number(std::size_t c) const { return pictures_.channels[c].number; }

    // What runs and no chase of the desk plays: where there are faders, and where there are none.
    struct Held {
        std::vector<std::uint32_t> inside, outside;
        Percent swing = 0;  // inside
    };
    std::map<Index, Held> held(const std::vector<std::vector<Index>>& running) const {
        std::map<Index, Held> all;
        for (std::size_t c = 0; c < running.size(); ++c)
            for (const Index which : running[c]) {
                Held& h = all[which];
                const bool inside = number(c) <= layout_.channels;
                (inside ? h.inside : h.outside).push_back(number(c));
                if (inside) h.swing = std::max(h.swing, picture_->swing[c]);
            }
        return all;
    }

    void add_outside(const char* kind, const std::string& name, const Held& h) {
        if (!h.outside.empty())
            add(kind, fmt::format("{} `{}` is not seen on {}: this layout has no fader there", kind, name,
                                  channels_text(h.outside)));
    }

    void waves() {
        for (const auto& [wave, h] : held(picture_->waves)) {
            const std::string& name = show_.waves[wave].name;
            if (!h.inside.empty())
                add("wave",
                    fmt::format(
                        "wave `{}` stands still at the middle of its range on {}; it would move levels by "
                        "up to {}%",
                        name, channels_text(h.inside), tenths(h.swing)));
            add_outside("wave", name, h);
        }
    }

    void chases() {
        for (const auto& [chase, h] : held(picture_->chases)) {
            const std::string& name = show_.chases[chase].name;
            if (!h.inside.empty())
                add("chase", fmt::format("chase `{}` stands still at its first step on {}", name,
                                         channels_text(h.inside)));
            add_outside("chase", name, h);
        }
    }

    // Parameters that the desk plays, with the virtual intensities that are multiplied into them.
    std::vector<bool> played() const {
        std::vector<bool> played(show_.parameters.size());
        for (const Channel& channel : pictures_.channels) {
            played[channel.parameter] = true;
            for (Index above = show_.virtual_above(channel.parameter); above != show::none;
                 above = show_.virtual_above(above))
                played[above] = true;
        }
        return played;
    }

    // What every parameter holds, for the next cue to be judged by.
    void remember() {
        before_.resize(show_.parameters.size());
        for (Index p = 0; p < before_.size(); ++p) before_[p] = now(p);
    }

    Before now(Index p) const {
        const Index wave = tracker_.at(p).wave;
        const runtime::Level floor = book_.floors.of(p), level = std::max(tracker_.at(p).level, floor);
        const runtime::Level highest =
            tracker_.is_chase(wave) ? book_.chase(tracker_.waves()[wave].chase).span(p).high : level;
        return {level, wave, std::max(highest, floor) > 0};
    }

    // Whether a change takes time in the show: it changes something, and not at once in the dark.
    bool takes_time(const track::Change& change) const {
        const Index p = change.parameter;
        if (change.jumps || before_[p] == now(p)) return false;
        if (show_.definition(p).kind == Kind::intensity) return true;
        for (Index above = show_.above(p); above != show::none; above = show_.above(above))
            if (!before_[above].lit) return false;
        return true;
    }

    // All that moves goes with one crossfade: the cue's times for levels.
    void times() {
        const Timing& header = tracker_.timings()[static_cast<std::size_t>(Kind::intensity)];
        static constexpr const char* kinds[] = {"levels", "colour", "position", "beam"};
        std::map<std::string, std::vector<Asked>> asked;
        for (const track::Change& change : tracker_.changes()) {
            if (!on_desk_[change.parameter] || !takes_time(change)) continue;
            const Kind kind = show_.definition(change.parameter).kind;
            const bool own_line = change.timing >= 4 && change.statement != show::none;
            const std::string what =
                own_line
                    ? fmt::format("`{}`", show_.selections[show_.statements[change.statement].selection].text)
                    : kinds[static_cast<std::size_t>(kind)];
            asked[what].push_back({tracker_.timings()[change.timing], kind == Kind::intensity});
        }
        for (auto& [what, all] : asked) add_times(what, all, header);
        if (header.delay > 0)
            add("delay",
                fmt::format("count {} from the GO by hand, then crossfade", format_duration(header.delay)));
        if (header.curve != runtime::Curve::linear)
            add("curve",
                fmt::format("the fade should go by the curve `{}`; a timed crossfade goes in a straight line",
                            header.curve == runtime::Curve::ease ? "ease" : "visual"));
    }

    // The members of a spread have times of their own.
    struct Asked {
        Timing timing;
        bool level;
    };
    void add_times(const std::string& what, std::vector<Asked>& all, const Timing& header) {
        const auto by = [&](auto key, auto text) {
            const auto [least, most] = std::minmax_element(
                all.begin(), all.end(),
                [&](const Asked& a, const Asked& b) { return key(a.timing) < key(b.timing); });
            return text(*least) == text(*most)
                       ? text(*least)
                       : fmt::format("{} to {}, one by one,", text(*least), text(*most));
        };
        if (std::any_of(all.begin(), all.end(), [&](const Asked& a) {
                return a.timing.up != header.up || a.timing.down != header.down;
            }))
            add("time", fmt::format("{} should take {} and goes with the crossfade in {}", what,
                                    by([](const Timing& t) { return std::pair(t.up, t.down); },
                                       [](const Asked& a) {
                                           return a.level ? times_text(a.timing.up, a.timing.down)
                                                          : format_duration(a.timing.up);
                                       }),
                                    times_text(header.up, header.down)));
        if (std::any_of(all.begin(), all.end(),
                        [&](const Asked& a) { return a.timing.delay != header.delay; }))
            add("delay", fmt::format("{} should wait {} and starts with the crossfade after {}", what,
                                     by([](const Timing& t) { return t.delay; },
                                        [](const Asked& a) { return format_duration(a.timing.delay); }),
                                     format_duration(header.delay)));
    }

    void start() {
        const show::Cue& cue = show_.cues[cue_];
        if (cue.next == runtime::Next::go || cue_ + 1 == show_.lists[0].count) return;
        const std::string time = format_duration(cue.next_ms);
        add("start",
            cue.next == runtime::Next::follow
                ? fmt::format(
                      "the next cue starts by itself {} after this one is complete; give its GO by hand",
                      time)
                : fmt::format("the next cue starts by itself {} after this one's GO; give its GO by hand",
                              time));
    }

    void jumps() {
        std::set<std::uint32_t> channels;
        for (std::size_t c = 0; c < pictures_.channels.size(); ++c)
            for (const track::Change& change : tracker_.changes())
                if (change.parameter == pictures_.channels[c].parameter && change.jumps && changed(c))
                    channels.insert(number(c));
        if (!channels.empty())
            add("jump", fmt::format("{} should jump and will pass through all that lies between",
                                    channels_text({channels.begin(), channels.end()})));
    }

    // Colours and positions of a dark fixture move at once in the show, so that its light comes up as it will
    // be. The desk begins with all faders down.
    void moves_in_the_dark() {
        std::vector<std::uint32_t> channels;
        for (std::size_t c = 0; c < pictures_.channels.size(); ++c)
            if (changed(c) && was_dark(c) && !is_down(*picture_, masters_[c])) channels.push_back(number(c));
        if (!channels.empty())
            add("dark",
                fmt::format("{} should move at once while dark; on the desk the crossfade shows the move",
                            channels_text(channels)));
    }

    bool was_dark(std::size_t c) const {
        if (cue_ > 0) return is_dark(pictures_.cues[cue_ - 1], masters_[c]);
        return std::any_of(masters_[c].begin(), masters_[c].end(),
                           [&](std::size_t m) { return pictures_.channels[m].floor == 0; });
    }

    // The desk begins with all faders down.
    bool changed(std::size_t c) const { return (cue_ > 0 ? setting(cue_ - 1, c) : 0) != setting(cue_, c); }

    Percent setting(Index cue, std::size_t c) const {
        const bool on_desk = !given_.empty() && c < given_[cue].size();
        return on_desk ? given_[cue][c] : pictures_.cues[cue].set[c];
    }

    // Of what shows.
    void settings() {
        std::vector<std::uint32_t> under, left, fine, outside;
        Percent worst = 0;
        std::size_t at = 0;
        for (std::size_t c = 0; c < pictures_.channels.size(); ++c) {
            if (number(c) > layout_.channels && lights(*picture_, masters_, c)) outside.push_back(number(c));
            if (is_down(*picture_, masters_[c])) continue;
            const Channel& channel = pictures_.channels[c];
            const Percent off = std::abs(picture_->set[c] - picture_->wanted[c]);
            if (off > worst) {
                worst = off;
                at = c;
            }
            if (picture_->chase[c] == 0 && setting(cue_, c) < least_level(channel.floor))
                under.push_back(number(c));
            if (channel.fine && uses_fine(channel.parameter)) fine.push_back(number(c));
            if (range_of(show_, channel, picture_->wanted[c]) != range_of(show_, channel, picture_->set[c]))
                left.push_back(number(c));
        }
        if (!under.empty())
            add("keep", fmt::format("{} should never be under the level that `keep` says, and is",
                                    channels_text(under)));
        if (!left.empty())
            add("range", fmt::format("no setting of a fader lies in the range that {} should be in",
                                     channels_text(left)));
        if (!fine.empty())
            add("fine", fmt::format("the fine byte on {} stays at zero; the coarse one is rounded",
                                    channels_text(fine)));
        if (tenths(worst) != "0")
            add("rounding",
                fmt::format("largest rounding error {}%, on channel {} ({}% for {}%)", tenths(worst),
                            number(at), tenths(picture_->set[at]), tenths(picture_->wanted[at])));
        if (!outside.empty())
            add("outside", fmt::format("{}: no fader in this layout, stays dark", channels_text(outside)));
        for (const Index i : pictures_.pushed_lit[cue_])
            add("outside",
                fmt::format("{}: its slot is on no channel, stays dark", pictures_.pushed[i].name));
    }

    bool uses_fine(Index parameter) const { return (tracker_.at(parameter).level & 255) != 0; }

    const show::Show& show_;
    const show::Layout& layout_;
    const Pictures& pictures_;
    const Given& given_;
    Masters masters_;
    track::Tracker tracker_;
    track::Book& book_;
    std::vector<bool> on_desk_;  // by parameter
    Index cue_ = 0;
    std::vector<Before> before_;  // of each parameter, before this cue
    const Picture* picture_ = nullptr;
    std::vector<Loss> losses_;
};

void add_chase_losses(std::vector<Loss>& losses, const Chases& chases) {
    for (const Chase& c : chases.chases) {
        const std::string worst = error_text(*std::max_element(c.steps.worst.begin(), c.steps.worst.end()));
        if (worst == "0") continue;
        for (const Index cue : c.cues)
            losses.push_back({cue, "steps",
                              fmt::format("chase {} has {} for {}: levels are off by up to {}%{}", c.number,
                                          text::counted(c.steps.steps, "step"), joined(c.of), worst,
                                          too_few_text(c.steps))});
    }
    for (const NoChase& n : chases.missing) losses.push_back({n.cue, "steps", n.text});
}

void add_recording_losses(std::vector<Loss>& losses, const Recordings& recordings) {
    for (const RunStep& s : recordings.run) {
        if (!recordings.kept)
            losses.push_back({s.cue, "submasters",
                              fmt::format("the submasters cannot give it: levels are off by up to {}%",
                                          error_text(s.error))});
        if (!s.glow.empty())
            losses.push_back({s.cue, "glow",
                              fmt::format("{} should be dark and will glow at up to {}%",
                                          channels_text(s.glow), error_text(s.brightest_glow))});
        if (!s.mixed.empty())
            losses.push_back(
                {s.cue, "mix",
                 fmt::format("two raised submasters hold colour of {}: it is right only while both stand",
                             fmt::join(s.mixed, ", "))});
    }
}

}  // namespace

std::vector<Loss> find_losses(const show::Show& show, track::Book& book, const show::Layout& layout,
                              const Pictures& pictures, const Chases& chases, const Given& given,
                              const Recordings* recordings) {
    std::vector<Loss> losses = Finder(show, book, layout, pictures, given).run();
    add_chase_losses(losses, chases);
    if (recordings != nullptr) add_recording_losses(losses, *recordings);
    std::stable_sort(losses.begin(), losses.end(),
                     [](const Loss& a, const Loss& b) { return a.cue < b.cue; });
    return losses;
}

}  // namespace tallow::desk
