// Pieces of an SVG picture. Numbers have two decimals and no locale: the same picture, the same bytes.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "compiler/colour/chromaticity.hpp"

namespace tallow::palettes::svg {

// A place on the page, in the units of the viewBox, y downwards.
struct Spot {
    double x, y;
};

// `#rrggbb`: the brightest sRGB colour of a chromaticity, clipped where sRGB ends.
std::string fill_of(colour::Chromaticity xy);

// Attributes such as `stroke="#000"` are taken as they are.
std::string line(Spot from, Spot to, std::string_view attributes);
std::string path(const std::vector<Spot>& spots, bool closed, std::string_view attributes);
std::string circle(Spot at, double radius, std::string_view attributes);
std::string diamond(Spot at, double radius, std::string_view attributes);
// The text is escaped here.
std::string words(Spot at, std::string_view text, std::string_view attributes);

}  // namespace tallow::palettes::svg
