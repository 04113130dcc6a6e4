#include "runtime/engine/straight.hpp"

#include <algorithm>

#include "runtime/timecode.hpp"

namespace tallow::runtime {

StraightPlay::StraightPlay(const Roll& roll)
    : roll_(roll), list_first_(roll.cues.size()), starters_(roll.waves.size() + roll.chases.size()) {
    for (const CueList& list : roll.lists)
        for (std::uint32_t cue = list.first; cue < list.first + list.count; ++cue) {
            list_first_[cue] = list.first;
            for (const std::uint32_t source : roll.cues[cue].starts) starters_[source].push_back(cue);
        }
}

std::optional<Tick> StraightPlay::time_between(std::uint32_t from, std::uint32_t to) const {
    struct Anchor {
        Tick code, elapsed;
    };
    std::optional<Anchor> anchor;  // the last cue with timecode
    std::optional<Tick> elapsed = Tick{0};
    for (std::uint32_t i = from;; ++i) {
        const Cue& cue = roll_.cues[i];
        if (cue.timecode != no_timecode) {
            const Tick code = timecode_tick(cue.timecode, roll_.timecode_rate, roll_.refresh);
            if (anchor && code >= anchor->code) elapsed = anchor->elapsed + (code - anchor->code);
            if (elapsed) anchor = Anchor{code, *elapsed};
        }
        if (i == to) return elapsed;
        if (cue.next == Next::go || !elapsed)
            elapsed.reset();
        else
            *elapsed += ((cue.next == Next::follow ? cue.complete_ms : 0) + cue.next_ms) * roll_.refresh;
    }
}

// The last cue of a cue's list, up to that cue, that begins a source; or none.
std::uint32_t StraightPlay::starter(std::uint32_t source, std::uint32_t cue) const {
    const auto& cues = starters_[source];
    const auto after = std::upper_bound(cues.begin(), cues.end(), cue);
    return after == cues.begin() || *(after - 1) < list_first_[cue] ? none : *(after - 1);
}

// The phase that a wave takes over from the one that it continues when a cue begins it.
Turns StraightPlay::carried(std::uint32_t wave, std::uint32_t cue) const {
    Turns sum = 0;
    for (std::uint32_t before = roll_.waves[wave].continues; before != none && cue > list_first_[cue];
         before = roll_.waves[before].continues) {
        const std::uint32_t began = starter(before, cue - 1);
        if (began == none) break;
        const auto ran = time_between(began, cue);
        if (!ran) break;
        sum += turns_in(roll_.waves[before], *ran, roll_.refresh);
        cue = began;
    }
    return sum;
}

std::optional<StraightPlay::Age> StraightPlay::age(std::uint32_t source, std::uint32_t cue) const {
    const std::uint32_t began = starter(source, cue);
    if (began == none) return {};
    const auto ticks = time_between(began, cue);
    if (!ticks) return {};
    return Age{*ticks, source < roll_.waves.size() ? carried(source, began) : 0};
}

}  // namespace tallow::runtime
