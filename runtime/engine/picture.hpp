// The tracked picture of a list after a cue, folded from its roll.
#pragma once

#include <cstdint>
#include <vector>

#include "runtime/roll/roll.hpp"

namespace tallow::runtime {

// What a list stands for, by parameter: whether it does, then its level and wave (see Run::wave); where it
// does not, home and none.
struct Tracked {
    std::vector<std::uint8_t> stands;
    std::vector<Level> level;
    std::vector<std::uint32_t> wave;
    bool operator==(const Tracked&) const = default;
};

// Fills `out` with the picture of a cue's list once that cue (an index) has been played: from the nearest
// picture that the roll holds, or from home, then set by set. Allocates only where out's columns are shorter
// than the rig.
void fold_picture(const Roll& roll, std::uint32_t cue, Tracked& out);

// The same as a roll keeps it.
Picture pack_picture(std::uint32_t cue, const Tracked& tracked);

}  // namespace tallow::runtime
