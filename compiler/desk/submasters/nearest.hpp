// Brings what a plan gives nearer to what is wanted.
#pragma once

#include "compiler/desk/submasters/bounds.hpp"

namespace tallow::desk::submasters {

// The largest error of each cue: how far the highest product is from what is wanted, rounded to a millionth
// of a percent.
std::vector<Percent> errors_of(const Levels& wanted, const Levels& positions, const Levels& recordings);

// First every submaster that can is recorded at lower levels and stands higher, at full in one cue at least.
// Then sets levels, and positions for as long as they stay, one by one to where the worst error that they can
// change, then the sum of errors, is least; of equal settings, the lowest. The bounds stay kept, and no move
// is added.
void bring_nearer(const Levels& wanted, const Bounds& bounds, Percent notch, Levels& positions,
                  Levels& recordings);

}  // namespace tallow::desk::submasters
