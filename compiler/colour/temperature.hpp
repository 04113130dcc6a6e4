// Colour temperatures.
#pragma once

#include <optional>

#include "compiler/colour/chromaticity.hpp"

namespace tallow::colour {

inline constexpr double kelvin_min = 1000,
                        kelvin_max = 25000;  // the daylight locus ends at 25 000 K (CIE 15)

// The Planckian locus up to 4000 K, the CIE daylight locus from 5000 K; between them both in the proportion
// (5000 − T) : (T − 4000) at equal luminance (CIE 224, reference illuminant). None outside
// kelvin_min..kelvin_max.
std::optional<Chromaticity> from_temperature(double kelvin);

// A black body (planck.hpp) at kelvin_min..kelvin_max.
Chromaticity planckian_locus(double kelvin);

// The CIE daylight locus (CIE 15) at 4000..25 000 K.
Chromaticity daylight_locus(double kelvin);

}  // namespace tallow::colour
