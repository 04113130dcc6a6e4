// A large show as text, the same for the same seed.
#pragma once

#include <cstdint>
#include <string>

namespace tallow::test {

// About `lines` lines: 2 000 fixtures of six types in groups, palettes, looks, waves, and cues with eight
// lines each.
std::string large_show(std::size_t lines, std::uint64_t seed);

}  // namespace tallow::test
