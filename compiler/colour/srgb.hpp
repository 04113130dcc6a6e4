// Colours written as sRGB (IEC 61966-2-1): only their chromaticity counts.
#pragma once

#include <cstdint>
#include <optional>

#include "compiler/colour/chromaticity.hpp"

namespace tallow::colour {

// Of `#rrggbb`. None for black, which has no chromaticity.
std::optional<Chromaticity> from_srgb(std::uint8_t r, std::uint8_t g, std::uint8_t b);

// An sRGB hue at full value: 0° red, 120° green, 240° blue, any finite angle wraps.
// Saturation 0..1, from white to the pure hue (as in HSV).
Chromaticity from_hue(double degrees, double saturation);

// Shares of the sRGB primaries' light, before coding.
struct LinearRgb {
    double r, g, b;
};

// The brightest colour of a chromaticity: its largest part is 1, and parts below 0 are taken as 0, which is
// another chromaticity for one outside of the sRGB triangle.
LinearRgb brightest_rgb(Chromaticity c);
// Of shares that are not all 0.
Chromaticity chromaticity_of(LinearRgb rgb);

// The coded values nearest to shares of 0..1.
struct CodedRgb {
    std::uint8_t r, g, b;
};
CodedRgb coded(LinearRgb rgb);

}  // namespace tallow::colour
