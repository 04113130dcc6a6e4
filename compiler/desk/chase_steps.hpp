// A movement that repeats, as the steps of a desk's chase: even times, levels that a hand sets.
//
// With crossfades, step k of N stands alone at k/N of the round, and each step fades into the next over the
// whole time of a step, in straight lines. Without, a step holds from k/N to (k+1)/N the level that is wanted
// at the middle of that time.
#pragma once

#include <functional>

#include "compiler/desk/percent.hpp"
#include "runtime/engine/integers.hpp"

namespace tallow::desk {

struct Mover {
    // The level at a part of the round; a step over 2⁻²⁴ of it is a jump.
    std::function<Percent(runtime::Phase)> at;
    // Where it jumps or bends. Elsewhere it runs so smoothly that it is seen by what lies 1/1024 of the round
    // away, or 1/16 of a step.
    std::vector<runtime::Phase> bends;
    Percent floor = 0;  // no step is set under it
};

struct ChaseSteps {
    std::size_t steps = 0;
    bool fades = true;                 // false: no crossfade, every step stands
    Levels levels;                     // steps × movers, as they are set
    std::vector<std::size_t> look;     // of each step, from 0; equal steps share one
    std::vector<Percent> worst, mean;  // of each mover against `at`, as set; the mean over time
    std::size_t needed = 0;            // the fewest within the tolerance; 0: more than were tried, if any
    bool within() const { return needed == steps; }
};

inline constexpr std::size_t most_tried = 256;

// The fewest steps of which the levels, before they are set by hand, are off by at most the tolerance; with
// crossfades where that needs no more steps than without. Where they are more than `most` (1 or more): the
// number up to that which is off by least at its worst, then in the mean. notch: 1 or more.
ChaseSteps chase_steps(const std::vector<Mover>& movers, Percent notch, Percent tolerance, std::size_t most);

}  // namespace tallow::desk
