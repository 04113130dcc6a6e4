// Damage to a text by words and lines, the same for a seed on every machine.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>

namespace tallow::test {

// `base` with one to six changes: a word left out, doubled, exchanged with another, or moved; a line left
// out, doubled or exchanged; an indentation put in or taken away.
std::string mutate_tokens(std::string_view base, std::uint64_t seed);

}  // namespace tallow::test
