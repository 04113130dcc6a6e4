// What any text may do to the compiler: nothing but be refused with findings, or compiled and played.
#pragma once

#include <cstdint>
#include <span>

namespace tallow::test {

// Compiles a show (its `use` lines find a small rig, or nothing), renders its findings, and plays one without
// errors for a few ticks. True if it had none. Throws where the compiler contradicts itself.
bool fuzz_parser(std::span<const std::uint8_t> bytes);

}  // namespace tallow::test
