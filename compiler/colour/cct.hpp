// How white a light is: the correlated colour temperature and the distance from the Planckian locus.
#pragma once

#include <optional>

#include "compiler/colour/chromaticity.hpp"

namespace tallow::colour {

struct Cct {
    double kelvin;  // of the nearest black body
    double duv;     // distance from it in CIE 1960 uv; above 0 over the locus (greenish), below 0 under it
};

// The nearest black body in CIE 1960 uv (u = u′, v = 2/3 v′; CIE 15), by Planck's law as planckian_locus has
// it. None where |Duv| is over .05, beyond which a temperature means nothing (CIE 15), and none below 1001 K
// or above 24 390 K.
std::optional<Cct> cct(Chromaticity c);

}  // namespace tallow::colour
