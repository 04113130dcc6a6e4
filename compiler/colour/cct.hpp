// The colour temperature that a light looks nearest to.
#pragma once

#include <optional>

#include "compiler/colour/chromaticity.hpp"

namespace tallow::colour {

struct Correlated {
    double kelvin;  // kelvin_min..kelvin_max
    double duv;     // from the Planckian locus: above 0 greener, below 0 pinker
};

// Beyond this distance a light has no colour temperature worth the name (CIE 15).
inline constexpr double duv_max = .05;

// The black body (planck.hpp) nearest to a valid chromaticity, to a billionth of a mired, and the distance to
// it, both in CIE 1960 (u′, ⅔v′), as CIE 15 defines the correlated colour temperature. None where the
// distance is over duv_max or the nearest one lies outside kelvin_min..kelvin_max.
std::optional<Correlated> correlated_temperature(Chromaticity xy);

}  // namespace tallow::colour
