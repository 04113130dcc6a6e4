// How a type makes a colour: by its emitters, by filters before a lamp, or by a wheel.
#pragma once

#include <vector>

#include "compiler/show/show.hpp"

namespace tallow::track {

enum class Way : std::uint8_t { emitters, filters, wheel };
Way way_of(const show::Type& type);

struct Mixed {
    std::vector<double> level;      // 0..1, one for each of Type::emitters
    show::Index slot = show::none;  // of the wheel, where there are no emitters
    colour::Chromaticity xy{};
    double lumens = 0;    // 0 where the type does not tell
    double distance = 0;  // Δu′v′ from the target
};

// The chromaticity as near as the type comes to it, as bright as it can.
// Emitters: the exact solution (colour/solve.hpp). Filters: cyan, magenta and yellow at 1 − R, 1 − G and 1 −
// B of the linear sRGB colour whose largest part is 1, parts below 0 taken as 0; approximate, since no filter
// and no lamp is ideal (common practice, no source). Wheel: the nearest slot in u′v′.
Mixed mix(const show::Type& type, colour::Chromaticity target);

}  // namespace tallow::track
