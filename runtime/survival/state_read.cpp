#include <algorithm>
#include <charconv>
#include <fmt/format.h>
#include <utility>

#include "runtime/engine/rows.hpp"
#include "runtime/hash.hpp"
#include "runtime/limits.hpp"
#include "runtime/roll/cue_places.hpp"
#include "runtime/survival/state.hpp"

namespace tallow::runtime {
namespace {

constexpr std::uint64_t most_orders = std::uint64_t{1} << 62;  // of GOs: more can be added
constexpr std::size_t title_bytes = 4096;
constexpr std::size_t most_gone = 8;  // cues that are told
constexpr std::string_view first_line = "tallow-state 1\n";

// The words of one line, taken one after the other. Once one is wrong, all are.
class Words {
  public:
    explicit Words(std::string_view line) : left_(line) {}

    std::string_view word() {
        const std::string_view word = left_.substr(0, left_.find(' '));
        left_.remove_prefix(std::min(word.size() + 1, left_.size()));
        return word;
    }
    std::string_view rest() { return std::exchange(left_, {}); }
    template <class T>
    T number(std::uint64_t most, int base = 10) {
        const std::string_view digits = word();
        std::uint64_t n = 0;
        const auto [end, error] = std::from_chars(digits.data(), digits.data() + digits.size(), n, base);
        if (digits.empty() || error != std::errc() || end != digits.data() + digits.size() || n > most)
            fail();
        return static_cast<T>(n);
    }
    bool flag() { return number<std::uint32_t>(1) != 0; }
    std::optional<std::uint64_t> number_or_dash() {
        if (left_.substr(0, left_.find(' ')) != "-") return number<std::uint64_t>(any);
        word();
        return {};
    }
    void fail() { ok_ = false; }
    bool ok() const { return ok_ && left_.empty(); }

    static constexpr std::uint64_t any = ~std::uint64_t{0};

  private:
    std::string_view left_;
    bool ok_ = true;
};

class Reader {
  public:
    Reader(const Roll& roll, std::uint64_t roll_hash) : roll_(roll), roll_hash_(roll_hash) {
        Standing& s = state_.show;
        s.lists.resize(roll.lists.size());
        for (std::size_t l = 0; l < s.lists.size(); ++l) s.lists[l].next = cue_behind(roll.lists[l], none);
        s.submasters.resize(roll.submasters.size());
        s.sources.resize(roll.waves.size() + roll.chases.size());
        s.claims.resize(Rows(roll).claims.size());
    }

    bool line(std::string_view text);
    const State& state() const { return state_; }

  private:
    bool same_roll() const { return state_.roll == roll_hash_; }
    Tick ticks(Words& words) { return scaled(words.number<std::uint64_t>(Words::any)); }
    Tick scaled(Tick t) const { return refresh_ == roll_.refresh ? t : t / refresh_ * roll_.refresh; }
    std::optional<Tick> ticks_or_dash(Words& words);
    std::uint32_t cue(Words& words, const CueList& list) const;
    std::uint32_t present_cue(Words& words, std::string_view name, const CueList& list);
    void title(Words& words);
    void list(Words& words);
    void earlier(Words& words);
    void submaster(Words& words);
    void source(Words& words);
    void claim(Words& words);

    const Roll& roll_;
    const std::uint64_t roll_hash_;
    std::uint32_t refresh_ = 1;
    State state_;
};

std::optional<Tick> Reader::ticks_or_dash(Words& words) {
    const auto t = words.number_or_dash();
    return t ? std::optional(scaled(*t)) : std::nullopt;
}

// The cue of a list with a number, or the last one before it; none for a dash.
std::uint32_t Reader::cue(Words& words, const CueList& list) const {
    const auto number = words.number_or_dash();
    if (!number) return none;
    return cue_up_to(roll_, list, *number);
}

// The same; one that is no more is remembered.
std::uint32_t Reader::present_cue(Words& words, std::string_view name, const CueList& list) {
    const auto number = words.number_or_dash();
    if (!number) return none;
    const std::uint32_t cue = cue_up_to(roll_, list, *number);
    const bool is = cue != none && roll_.cues[cue].number == *number;
    if (!is && *number <= ~std::uint32_t{0} && state_.gone.size() < most_gone)
        state_.gone.push_back({std::string(name), static_cast<std::uint32_t>(*number)});
    return cue;
}

void Reader::title(Words& words) {
    state_.title = words.rest();
    if (state_.title.empty() || state_.title.size() > title_bytes) words.fail();
}

void Reader::list(Words& words) {
    const std::string_view name = words.word();
    const std::size_t index = list_named(roll_, name);
    const bool known = index < roll_.lists.size();
    const CueList of = known ? roll_.lists[index] : CueList();
    Standing::List on;
    on.current = present_cue(words, name, of);
    on.stopped = ticks_or_dash(words);
    on.begun = ticks(words);
    on.complete_at = ticks(words);
    on.pending = ticks_or_dash(words);
    if (!known || of.count == 0) return;
    on.next = cue_behind(of, on.current);
    if (on.next == none) on.pending.reset();
    state_.show.lists[index] = on;
}

// Behind the line of its list, the latest first.
void Reader::earlier(Words& words) {
    const std::size_t index = list_named(roll_, words.word());
    const bool known = index < roll_.lists.size();
    const std::uint32_t cue = this->cue(words, known ? roll_.lists[index] : CueList());
    const Tick at = ticks(words);
    if (cue == none) return;
    auto& all = state_.show.lists[index].earlier;
    const auto free =
        std::find_if(all.begin(), all.end(), [](const Standing::Given& given) { return given.cue == none; });
    if (free == all.end()) return words.fail();
    *free = {cue, at};
}

void Reader::submaster(Words& words) {
    const auto number = words.number<std::uint32_t>(~std::uint32_t{0});
    const auto position = words.number<Level>(full);
    for (std::size_t i = 0; i < roll_.submasters.size(); ++i)
        if (roll_.submasters[i].number == number) state_.show.submasters[i] = position;
}

void Reader::source(Words& words) {
    const auto index = words.number<std::uint64_t>(Words::any);
    const auto began = words.number<std::uint64_t>(Words::any),
               turns = words.number<std::uint64_t>(Words::any),
               phase = words.number<std::uint64_t>(Words::any);
    if (!same_roll()) return;
    if (index >= state_.show.sources.size()) return words.fail();
    state_.show.sources[index] = {began, (Turns{turns} << 64) + phase};
}

void Reader::claim(Words& words) {
    const auto index = words.number<std::uint64_t>(Words::any),
               order = words.number<std::uint64_t>(Words::any);
    if (!same_roll()) return;
    if (index >= state_.show.claims.size() || order > most_orders) return words.fail();
    state_.show.claims[index] = order;
}

bool Reader::line(std::string_view text) {
    Words words(text);
    const std::string_view what = words.word();
    if (what == "roll")
        state_.roll = words.number<std::uint64_t>(Words::any, 16);
    else if (what == "title")
        title(words);
    else if (what == "wall")
        state_.wall_ms = words.number<std::uint64_t>(Words::any);
    else if (what == "cid")
        state_.cid = words.word();
    else if (what == "refresh")
        refresh_ = std::max(words.number<std::uint32_t>(limits::refresh_max), 1u);
    else if (what == "now")
        state_.show.now = ticks(words);
    else if (what == "paused")
        state_.paused = words.flag();
    else if (what == "grand")
        state_.show.master = words.number<Level>(full);
    else if (what == "blackout")
        state_.show.blackout = words.flag();
    else if (what == "panic")
        state_.show.panic = words.flag() && !roll_.panic.empty();
    else if (what == "timecode")
        state_.show.timecode = ticks_or_dash(words);
    else if (what == "tape")
        state_.tape = words.number<TapeUse>(static_cast<std::uint64_t>(TapeUse::refused));
    else if (what == "list")
        list(words);
    else if (what == "earlier")
        earlier(words);
    else if (what == "submaster")
        submaster(words);
    else if (what == "source")
        source(words);
    else if (what == "claim")
        claim(words);
    else
        return false;
    return words.ok();
}

// Each GO before the one that came after it.
bool in_order(const Standing::List& on) {
    Tick after = on.begun;
    return std::all_of(on.earlier.begin(), on.earlier.end(), [&](const Standing::Given& given) {
        return given.cue == none || std::exchange(after, given.at) >= given.at;
    });
}

// Times that cannot be of one another would have the engine look back or far ahead.
bool plausible(const Standing& s) {
    return s.now <= limits::show_ticks && s.timecode.value_or(0) <= limits::show_ticks &&
           std::all_of(s.lists.begin(), s.lists.end(), [&](const Standing::List& on) {
               return on.begun <= s.now && in_order(on) && on.stopped.value_or(on.begun) >= on.begun &&
                      on.stopped.value_or(0) <= std::min(s.now, on.complete_at) &&
                      on.complete_at <= 2 * limits::show_ticks &&
                      on.pending.value_or(0) <= 2 * limits::show_ticks;
           });
}

}  // namespace

bool is_state(std::string_view text) {
    return text.substr(0, first_line.size()) == first_line;
}

Result<State> read_state(std::string_view text, const Roll& roll, std::uint64_t roll_hash) {
    const Status damaged =
        Status::failure("it is damaged, cut off, or no state of a show; play without `--resume`");
    if (text.size() > limits::state_bytes)
        return Status::failure(fmt::format("it has more than {} bytes", limits::state_bytes));
    if (!is_state(text)) return damaged;
    const std::size_t end = text.rfind("end ");
    if (end == std::string_view::npos ||
        text.substr(end) != fmt::format("end {:016x}\n", hash(text.substr(0, end))))
        return damaged;
    Reader reader(roll, roll_hash);
    for (std::size_t at = first_line.size(); at < end;) {
        const std::size_t stop = text.find('\n', at);
        if (!reader.line(text.substr(at, stop - at))) return damaged;
        at = stop + 1;
    }
    if (!plausible(reader.state().show)) return damaged;
    return reader.state();
}

}  // namespace tallow::runtime
