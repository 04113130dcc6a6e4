// The whole tracked picture of a cue, folded from its roll.
#pragma once

#include "runtime/roll.hpp"

namespace tallow::runtime {

// Fills `out` with every parameter's level and wave once cue `cue` (an index) has been played: from the
// nearest picture that the roll holds, or from home, then set by set. Allocates only where out's columns are
// shorter than the rig.
void fold_picture(const Roll& roll, std::uint32_t cue, Picture& out);

}  // namespace tallow::runtime
