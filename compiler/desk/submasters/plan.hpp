// A plan of submasters for cues: what is recorded into each, and where it stands at each cue, so that the
// highest on each channel gives the cue (bounds.hpp says it in a formula).
#pragma once

#include "compiler/desk/submasters/bounds.hpp"
#include "compiler/desk/submasters/clique.hpp"
#include "compiler/desk/submasters/positions.hpp"

namespace tallow::desk::submasters {

struct Task {
    Levels wanted;         // cues × channels; any_setting: no error there counts
    Bounds bounds;         // about what is wanted
    Percent notch = 1;     // of faders and submasters; below 1: taken as 1
    std::size_t most = 0;  // submasters that there are, on all pages
    // Those of one page. With more recordings, submasters go down in cues that do without them, so that cues
    // use few pages; otherwise they stay up where that saves moves.
    std::size_t on_page = nowhere;
};

struct Plan {
    Levels recordings;           // submasters × channels; by the cue that raises each first
    Levels positions;            // cues × submasters
    std::vector<Percent> error;  // of each cue the largest, rounded to a millionth of a percent
    Percent beyond = 0;          // how far past the bounds cells may lie; 0: they are kept
    std::size_t needed = 0;      // the fewest submasters found that keep the bounds
    bool can_be_kept = true;     // false: no number was found that keeps them (then `needed` means nothing)
    std::vector<Cell> apart;     // the reason why there are no fewer than so many

    bool kept() const { return beyond == 0; }
};

// The fewest submasters found; of those, few moves; of those, what is near to what is wanted. Where there
// are fewer than needed, the plan with the least `beyond`, then with the least errors that were found. Equal
// on every machine. Work is bounded (a few seconds): past that, and above 2²⁶ cells × lines, a plan may hold
// one recording for each look or each channel.
Plan make_plan(const Task& task);

}  // namespace tallow::desk::submasters
