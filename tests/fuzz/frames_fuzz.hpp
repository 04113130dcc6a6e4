#pragma once

#include <cstdint>
#include <span>

namespace tallow::test {

// Reads every frame of what claims to be a frames file.
void fuzz_frames(std::span<const std::uint8_t> bytes);

}  // namespace tallow::test
