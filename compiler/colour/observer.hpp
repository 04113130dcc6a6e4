// The CIE 1931 2° standard observer.
#pragma once

#include <array>

namespace tallow::colour {

inline constexpr double observer_start_nm = 360, observer_step_nm = 5;

struct Response {
    double x, y, z;  // x̄, ȳ, z̄
};

// Colour-matching functions, 360..830 nm. Facts published by the CIE (CIE 15); read from the npm package
// spectral-color 0.1.0 (MIT) and found equal, value for value, to Debian's colord-data 1.4.6.
extern const std::array<Response, 95> observer;

}  // namespace tallow::colour
