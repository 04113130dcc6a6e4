// A show of unlike fixtures and many palettes as text, the same for the same seed.
#pragma once

#include <cstdint>
#include <string>

namespace tallow::test {

// 2 000 fixtures of ten types with three to seven emitters each, and 500 palettes: a cue for each puts it on
// every fixture.
std::string unlike_show(std::uint64_t seed);

}  // namespace tallow::test
