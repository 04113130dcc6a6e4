// What the formatter may do to any text: lay it out again, and nothing else.
#pragma once

#include <cstdint>
#include <span>

namespace tallow::test {

// Formats a text and throws where the plain form has other atoms or other lines, where it is broken
// elsewhere, or where formatting once more changes it. False for what is not UTF-8.
bool fuzz_format(std::span<const std::uint8_t> bytes);

}  // namespace tallow::test
