#pragma once

#include <cstdint>
#include <span>

namespace tallow::test {

// Reads every frame of what claims to be a frames file, as it is and with its hashes put right, as a forger
// would; and takes the bytes for the unpacked payload of a chunk. Throws when what was announced is not what
// can be read.
void fuzz_frames(std::span<const std::uint8_t> bytes);

}  // namespace tallow::test
