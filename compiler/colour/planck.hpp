// The black body, as the CIE 1931 2° observer sees it.
#pragma once

#include "compiler/colour/chromaticity.hpp"

namespace tallow::colour {

struct Tristimulus {
    double x, y, z;  // X, Y, Z
};

struct BlackBody {
    Tristimulus light;   // in a unit of its own, the same at every temperature
    Tristimulus change;  // of the light, for each mired (10⁶/kelvin) more
};

// At 900..100 000 K: Planck's law with c₂ = 1.4388e-2 m·K, summed with the CIE 1931 2° functions over
// 360..830 nm at 5 nm.
BlackBody black_body(double kelvin);

}  // namespace tallow::colour
