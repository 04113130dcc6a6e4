// Damage to an input, the same for a seed on every machine.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>

namespace tallow::test {

// `base` with one to eight changes: bytes flipped, set, taken out, put in or repeated.
std::string mutate(std::string_view base, std::uint64_t seed);

}  // namespace tallow::test
