#include "runtime/engine/schedule.hpp"

#include <algorithm>
#include <tuple>

#include "runtime/timecode.hpp"

namespace tallow::runtime {

Schedule::Schedule(const Roll& roll) : roll_(roll), lists_(roll.lists.size()) {
    for (std::uint32_t l = 0; l < roll.lists.size(); ++l) {
        const auto [first, count] = std::pair(roll.lists[l].first, roll.lists[l].count);
        if (count > 0) lists_[l].next = first;
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
    const std::uint32_t end = roll_.lists[list].first + roll_.lists[list].count;
    lists_[list] = {cue, cue + 1 < end ? cue + 1 : none, {}, g + roll_.cues[cue].complete_ms * roll_.refresh};
}

void Schedule::arm(std::uint32_t list, Tick g) {
    List& on = lists_[list];
    if (on.next == none) return;
    const Cue& cue = roll_.cues[on.current];
    if (cue.next == Next::follow) on.pending = on.complete_at + cue.next_ms * roll_.refresh;
    if (cue.next == Next::next_at) on.pending = g + cue.next_ms * roll_.refresh;
}

void Schedule::run_timecode(Tick t, Tick code) {
    // The same code, still running: what it has passed is over.
    if (code_from_ && t >= *code_from_ && code >= code_base_ && t - *code_from_ == code - code_base_) return;
    code_from_ = t;
    code_base_ = code;
    const auto at =
        std::lower_bound(codes_.begin(), codes_.end(), code, [](const Code& a, Tick c) { return a.at < c; });
    next_code_ = static_cast<std::size_t>(at - codes_.begin());
}

bool Schedule::at_rest(Tick t) const {
    return !due() &&
           std::all_of(lists_.begin(), lists_.end(), [&](const List& list) { return list.complete_at <= t; });
}

}  // namespace tallow::runtime
