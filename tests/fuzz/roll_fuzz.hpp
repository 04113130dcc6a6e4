// What hostile bytes may do to the reader of rolls and to the engine: nothing but be refused or played.
#pragma once

#include <cstdint>
#include <span>

namespace tallow::test {

// Reads a roll; one that is read is written, read again, and played for a few ticks and cues. True if it was
// read.
bool fuzz_roll(std::span<const std::uint8_t> bytes);

}  // namespace tallow::test
