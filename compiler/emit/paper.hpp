// Paper, and lengths on it.
#pragma once

#include <cstdint>

namespace tallow::emit {

using Length = std::int32_t;  // hundredths of a millimetre

struct Paper {
    const char* name;
    Length width, height;
};

inline constexpr Paper a4{"A4", 21000, 29700}, letter{"letter", 21590, 27940};
inline constexpr Length margin = 1000;         // on all four sides
inline constexpr Length check_length = 10000;  // of the rule that is measured before a strip is cut

// The distance from fader to fader that a strip may have.
inline constexpr Length least_pitch = 1000, usual_pitch = 2000, largest_pitch = 6000;

}  // namespace tallow::emit
