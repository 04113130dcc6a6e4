#include "runtime/engine/schedule.hpp"

#include <algorithm>
#include <tuple>

#include "runtime/roll/cue_places.hpp"
#include "runtime/timecode.hpp"

namespace tallow::runtime {

namespace {

constexpr std::uint64_t correction_frames = 2;  // the largest step of the code that is no jump

}  // namespace

Schedule::Schedule(const Roll& roll) : roll_(roll), lists_(roll.lists.size()) {
    for (std::uint32_t l = 0; l < roll.lists.size(); ++l) {
        const auto [first, count] = std::pair(roll.lists[l].first, roll.lists[l].count);
        lists_[l].next = cue_behind(roll.lists[l], none);
        for (std::uint32_t cue = first; cue < first + count; ++cue)
            if (const std::uint64_t frame = roll.cues[cue].timecode; frame != no_timecode)
                codes_.push_back({timecode_tick(frame, roll.timecode_rate, roll.refresh), l, cue});
    }
    std::sort(codes_.begin(), codes_.end(), [](const Code& a, const Code& b) {
        return std::tie(a.at, a.list, a.cue) < std::tie(b.at, b.list, b.cue);
    });
}

std::optional<Schedule::Due> Schedule::due_by_timecode() const {
    if (!code_from_ || next_code_ == codes_.size()) return {};
    const Code& code = codes_[next_code_];
    return Due{*code_from_ + (code.at - code_base_), code.list, code.cue, true};
}

std::optional<Schedule::Due> Schedule::due() const {
    std::optional<Due> first = due_by_timecode();
    for (std::uint32_t l = 0; l < lists_.size(); ++l) {
        const std::optional<Tick> pending = lists_[l].pending;
        if (pending && (!first || std::tie(*pending, l) < std::tie(first->at, first->list)))
            first = Due{*pending, l, lists_[l].next, false};
    }
    return first;
}

void Schedule::begin(std::uint32_t list, std::uint32_t cue, Tick g) {
    List& on = lists_[list];
    std::shift_right(on.earlier.begin(), on.earlier.end(), 1);
    on.earlier[0] = {on.current, on.begun};
    if (on.stopped) on.earlier.fill({});
    on.current = cue;
    on.next = cue_behind(roll_.lists[list], cue);
    on.stopped.reset();
    on.begun = g;
    on.complete_at = g + roll_.cues[cue].complete_ms * roll_.refresh;
    on.pending.reset();
}

// Ticks from the GO of a cue to that of the next, which starts by itself.
Tick Schedule::wait_after(std::uint32_t cue) const {
    const Cue& of = roll_.cues[cue];
    return ((of.next == Next::follow ? of.complete_ms : 0) + of.next_ms) * roll_.refresh;
}

void Schedule::arm(std::uint32_t list, Tick g, Tick passed) {
    List& on = lists_[list];
    if (on.next == none || roll_.cues[on.current].next == Next::go) return;
    const Tick wait = wait_after(on.current);
    on.pending = g + (wait > passed ? wait - passed : 0);
}

void Schedule::stop(std::uint32_t list, Tick g, Tick complete_at) {
    lists_[list].pending.reset();
    if (lists_[list].current != none) lists_[list].stopped = g;
    lists_[list].complete_at = complete_at;
}

std::optional<Tick> Schedule::timecode(Tick t) const {
    if (!code_from_) return {};
    return code_base_ + (t - *code_from_);
}

// The last of a list's cues with timecode up to `code`, or null.
const Schedule::Code* Schedule::last_code(std::uint32_t list, Tick code) const {
    const Code* last = nullptr;
    for (const Code& one : codes_) {
        if (one.at > code) break;
        if (one.list == list) last = &one;
    }
    return last;
}

std::optional<Schedule::Place> Schedule::place(std::uint32_t list, Tick code) const {
    const Code* const last = last_code(list, code);
    if (!last || last->at == code) return {};
    const std::uint32_t end = roll_.lists[list].first + roll_.lists[list].count;
    Place place{last->cue, code - last->at};
    const auto goes_on = [&](std::uint32_t cue) { return cue + 1 < end && roll_.cues[cue].next != Next::go; };
    while (goes_on(place.cue) && place.passed >= wait_after(place.cue)) {
        place.passed -= wait_after(place.cue);
        ++place.cue;
    }
    const List& on = lists_[list];
    if (on.current == none || on.stopped) return place;
    std::uint32_t by_hand = place.cue;  // the first cue that only a GO by hand reaches
    while (goes_on(by_hand)) ++by_hand;
    ++by_hand;
    std::uint32_t coded = by_hand;  // the next cue with timecode
    while (coded < end && roll_.cues[coded].timecode == no_timecode) ++coded;
    if (on.current >= by_hand && on.current < coded) return {};
    return place;
}

bool Schedule::run_timecode(Tick t, Tick code) {
    // The same code, still running: what it has passed is over.
    if (code_from_ && t >= *code_from_ && code >= code_base_ && t - *code_from_ == code - code_base_)
        return false;
    const std::optional<Tick> running = timecode(t);
    const std::size_t next = next_code_;
    code_from_ = t;
    code_base_ = code;
    const auto at =
        std::lower_bound(codes_.begin(), codes_.end(), code, [](const Code& a, Tick c) { return a.at < c; });
    next_code_ = static_cast<std::size_t>(at - codes_.begin());
    if (!running || next != next_code_) return true;
    const Tick step = std::max(*running, code) - std::min(*running, code);
    return step > timecode_tick(correction_frames, roll_.timecode_rate, roll_.refresh);
}

bool Schedule::at_rest(Tick t) const {
    return !due() &&
           std::all_of(lists_.begin(), lists_.end(), [&](const List& list) { return list.complete_at <= t; });
}

}  // namespace tallow::runtime
