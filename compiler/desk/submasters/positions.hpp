// Where each submaster stands at each cue, for as few moves as can be found.
#pragma once

#include "compiler/desk/submasters/bounds.hpp"

namespace tallow::desk::submasters {

enum class Unneeded : bool { stays, goes_down };  // a submaster in a cue that does without it

// Positions (cues × recordings) that keep the bounds, all submasters being down before the first cue. The
// recordings keep them with each submaster as high as it may be.
//
// What the others leave to a submaster is a span of positions for each cue; positions that stay as long as
// the spans allow are then the fewest moves of that one. So submaster by submaster, until no move is saved.
Levels fewest_moves(const Bounds& bounds, const Levels& recordings, Percent notch, Unneeded unneeded);

// Changes from cue to cue, from all down.
std::size_t count_moves(const Levels& positions);

}  // namespace tallow::desk::submasters
