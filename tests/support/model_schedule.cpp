// Which cue starts when.
#include <tuple>

#include "tests/support/model.hpp"

namespace tallow::test {

using runtime::none;
using runtime::Tick;

namespace {

// To the nearest tick, by exact fractions.
Tick tick_of(std::uint64_t frame, const runtime::Roll& roll) {
    using runtime::TimecodeRate;
    const auto ticks = static_cast<std::int64_t>(frame * 1000 * roll.refresh);
    const Rational at = roll.timecode_rate == TimecodeRate::f24    ? Rational(ticks, 24)
                        : roll.timecode_rate == TimecodeRate::f25  ? Rational(ticks, 25)
                        : roll.timecode_rate == TimecodeRate::drop ? Rational(ticks * 1001, 30000)
                                                                   : Rational(ticks, 30);
    return static_cast<Tick>((at + Rational(1, 2)).floor());
}

}  // namespace

// At one instant lists come in their order; in a list, timecode comes before what was pending.
std::optional<Model::Event> Model::next_event() const {
    std::optional<Event> first;
    const auto offer = [&](const Event& event) {
        if (!first || event.at < first->at) first = event;
    };
    for (std::uint32_t l = 0; l < lists_.size(); ++l) {
        for (std::uint32_t k = 0; code_ && k < roll_.lists[l].count; ++k) {
            const std::uint32_t cue = roll_.lists[l].first + k;
            if (roll_.cues[cue].timecode == runtime::no_timecode || code_->passed[cue]) continue;
            const Tick at = tick_of(roll_.cues[cue].timecode, roll_);
            if (at >= code_->base) offer({code_->at + (at - code_->base), l, cue, true});
        }
        if (lists_[l].pending) offer({*lists_[l].pending, l, lists_[l].current + 1, false});
    }
    return first;
}

void Model::start(const Event& event) {
    const std::uint32_t current = lists_[event.list].current;
    const std::uint32_t next = current == none ? roll_.lists[event.list].first : current + 1;
    if (event.by_code) code_->passed[event.cue] = true;
    const bool stopped = lists_[event.list].stopped;
    if (event.by_code && event.cue == current && !stopped) return arm(event.list, event.at);
    if (event.cue == next && !stopped) return start_cue(event.list, event.cue, event.at);
    jump_to(event.list, event.cue, event.at, 0);
    arm(event.list, event.at);
}

// Ticks from a cue's GO to that of the next, which starts by itself.
Tick Model::wait_after(std::uint32_t index) const {
    const auto& cue = roll_.cues[index];
    const std::uint64_t before = cue.next == runtime::Next::follow ? cue.complete_ms : 0;
    return (before + cue.next_ms) * roll_.refresh;
}

void Model::arm(std::uint32_t list, Tick g, Tick passed) {
    List& on = lists_[list];
    on.pending.reset();
    if (on.current + 1 == roll_.lists[list].first + roll_.lists[list].count) return;
    if (roll_.cues[on.current].next == runtime::Next::go) return;
    on.pending = g + wait_after(on.current) - passed;
}

// Between the GOs of two cues, where they are tied: by timecode to an earlier one that is tied to the first,
// else by what the cue before says.
std::optional<Tick> Model::distance(std::uint32_t from, std::uint32_t to) const {
    if (from == to) return 0;
    const auto& code = roll_.cues[to].timecode;
    for (std::uint32_t k = to; code != runtime::no_timecode && k-- > from;) {
        if (roll_.cues[k].timecode == runtime::no_timecode) continue;
        const auto tied = distance(from, k);
        if (!tied) continue;
        if (roll_.cues[k].timecode > code) break;
        return *tied + tick_of(code, roll_) - tick_of(roll_.cues[k].timecode, roll_);
    }
    const auto before = distance(from, to - 1);
    if (!before || roll_.cues[to - 1].next == runtime::Next::go) return {};
    return *before + wait_after(to - 1);
}

// Where the list would be, had the code run through: there it jumps, unless GOs by hand lead on from there to
// where it is.
void Model::locate(std::uint32_t list, Tick t, Tick code) {
    const auto [first, count] = std::pair(roll_.lists[list].first, roll_.lists[list].count);
    std::uint32_t coded = none;
    Tick at = 0;
    for (std::uint32_t i = first; i < first + count; ++i) {
        if (roll_.cues[i].timecode == runtime::no_timecode) continue;
        const Tick own = tick_of(roll_.cues[i].timecode, roll_);
        if (own == code) return;
        if (own < code && (coded == none || own >= at)) std::tie(coded, at) = std::pair(i, own);
    }
    if (coded == none) return;
    std::uint32_t cue = coded;
    Tick left = code - at;
    const auto tied = [&, end = first + count](std::uint32_t i) {
        return i + 1 < end && roll_.cues[i].next != runtime::Next::go;
    };
    for (; tied(cue) && left >= wait_after(cue); ++cue) left -= wait_after(cue);
    List& on = lists_[list];
    if (on.current != none && !on.stopped && on.current > cue) {
        bool by_hand = false, by_code = false;  // on the way from where it belongs to where it is
        for (std::uint32_t i = cue; i < on.current; ++i) {
            by_hand = by_hand || !tied(i);
            by_code = by_code || (by_hand && roll_.cues[i + 1].timecode != runtime::no_timecode);
        }
        if (by_hand && !by_code) return;
    }
    if (on.current != cue || on.stopped) jump_to(list, cue, t, left);
    arm(list, t, left);
}

void Model::advance(Tick t) {
    for (auto event = next_event(); event && event->at <= t; event = next_event()) start(*event);
}

bool Model::go(std::uint32_t list, Tick t) {
    if (t > 0) advance(t - 1);
    const std::uint32_t current = lists_[list].current;
    const std::uint32_t next = current == none ? roll_.lists[list].first : current + 1;
    if (next >= roll_.lists[list].first + roll_.lists[list].count) return false;
    if (!lists_[list].stopped) {
        start_cue(list, next, t);
        return true;
    }
    go_to(list, next, t);
    return true;
}

void Model::go_to(std::uint32_t list, std::uint32_t cue, Tick t) {
    if (t > 0) advance(t - 1);
    jump_to(list, cue, t, 0);
    arm(list, t);
}

void Model::set_blackout(bool on, Tick t) {
    if (t > 0) advance(t - 1);
    blackout_ = on;
}

bool Model::back(std::uint32_t list, Tick t) {
    if (t > 0) advance(t - 1);
    const std::uint32_t current = lists_[list].current;
    const bool stopped = lists_[list].stopped;
    if (current == none || (current == roll_.lists[list].first && !stopped)) return false;
    jump_to(list, stopped ? current : current - 1, t, 0);
    return true;
}

void Model::set_submaster(std::uint32_t index, runtime::Level position, Tick t) {
    if (t > 0) advance(t - 1);
    const auto& submaster = roll_.submasters[index];
    if (positions_[index] == 0 && position > 0) {
        for (const std::uint32_t source : submaster.starts) begin(source, t);
        for (const auto& run : submaster.runs)
            for (const std::uint32_t source : run.wave)
                if (source != none && begun_[source].empty()) begin(source, t);
    }
    positions_[index] = position;
}

void Model::set_master(runtime::Level position, Tick t) {
    if (t > 0) advance(t - 1);
    master_ = position;
}

void Model::set_panic(bool on, Tick t) {
    if (t > 0) advance(t - 1);
    panic_ = on;
}

// A step of two frames at the most with no cue between is no jump.
bool Model::is_correction(Tick t, Tick code) const {
    if (!code_) return false;
    const Tick running = code_->base + (t - code_->at);
    const Tick step = running > code ? running - code : code - running;
    if (step > tick_of(2, roll_)) return false;
    for (std::uint32_t cue = 0; cue < roll_.cues.size(); ++cue) {
        if (roll_.cues[cue].timecode == runtime::no_timecode) continue;
        const Tick own = tick_of(roll_.cues[cue].timecode, roll_);
        const bool over = own < code_->base || code_->passed[cue];
        if (over != (own < code)) return false;
    }
    return true;
}

void Model::timecode(Tick t, Tick code) {
    if (t > 0) advance(t - 1);
    const bool jumps = !is_correction(t, code);
    code_ = Code{t, code, std::vector<bool>(roll_.cues.size())};
    for (std::uint32_t list = 0; jumps && list < lists_.size(); ++list) locate(list, t, code);
}

void Model::timecode_stop(Tick t) {
    if (t > 0) advance(t - 1);
    code_.reset();
}

}  // namespace tallow::test
