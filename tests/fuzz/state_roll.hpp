#pragma once

#include "runtime/roll/roll.hpp"

namespace tallow::test {

// A roll with all that a state speaks of: two lists that share parameters, cues that follow one another, by
// time and by timecode, waves, one of which continues the other, a chase, submasters, a panic look.
runtime::Roll state_roll();

}  // namespace tallow::test
