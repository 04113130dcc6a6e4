#pragma once

#include <cstdint>
#include <span>

namespace tallow::test {

// Compiles what claims to be a show; a clean one is lowered, checked as a roll and played for a moment. True
// when it was clean. Throws std::logic_error when one step does not hold what the step before promised.
bool fuzz_parser(std::span<const std::uint8_t> bytes);

}  // namespace tallow::test
