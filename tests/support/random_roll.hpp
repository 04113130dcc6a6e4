// Small rolls with everything in them, the same for a seed on every machine.
#pragma once

#include <cstdint>

#include "tests/support/model.hpp"

namespace tallow::test {

ExactRoll random_roll(std::uint64_t seed);

}  // namespace tallow::test
