// What the console's keys and its screen must hold to, whatever bytes a terminal or a show has.
#pragma once

#include "runtime/bytes.hpp"

namespace tallow::test {

// Throws where a command that the keys ask for is none, a question is answered by no enter, or a screen with
// these bytes for labels does not keep to its size.
void fuzz_keys(std::span<const std::uint8_t> bytes);

}  // namespace tallow::test
