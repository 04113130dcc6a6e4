// A search for the fewest recordings that keep the bounds.
#pragma once

#include <cstdint>
#include <vector>

#include "compiler/desk/submasters/bounds.hpp"
#include "compiler/desk/submasters/clique.hpp"

namespace tallow::desk::submasters {

struct Fewest {
    Levels recordings;       // recordings × channels: the highest levels that the cells they serve allow
    std::size_t missed = 0;  // cells that none serves; 0: the bounds can be kept
};

struct Limits {
    std::size_t most;    // recordings, 1 or more: past that, cells are missed
    std::size_t enough;  // recordings: with no more than that the search ends
    std::uint64_t work;  // about a nanosecond each
};

// Each recording begins as a Draft from one of the cells that are apart. The cell that fewest drafts can take
// on goes to the one that leaves the fewest cells unserved; where none can, a draft more begins. Then drafts
// are dropped one by one, and what they served is moved to others, which let go of cells for it, until none
// is left unserved; a move is not taken back for a while. Ends when there are enough, or as few as there are
// cells apart (no plan has fewer), when the work is used up, or after some tries without gain.
Fewest find_fewest(const Bounds& bounds, Percent notch, const std::vector<Cell>& apart, Limits limits);

}  // namespace tallow::desk::submasters
