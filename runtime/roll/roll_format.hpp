// What the writer and the reader of rolls share.
#pragma once

#include <cstdint>

namespace tallow::runtime {

inline constexpr std::uint32_t roll_version = 1;  // of the format in FORMATS.md

}  // namespace tallow::runtime
