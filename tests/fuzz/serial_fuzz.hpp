#pragma once

#include <cstdint>
#include <span>

namespace tallow::test {

// Takes the bytes for what an operator wrote behind `--serial`. Whether they were read; throws when what was
// read is beyond its limits.
bool fuzz_serial(std::span<const std::uint8_t> bytes);

}  // namespace tallow::test
