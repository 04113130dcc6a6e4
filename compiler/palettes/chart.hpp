// The empty diagram: axes, the spectral locus with the purple line, and the Planckian locus.
#pragma once

#include <string>

#include "compiler/palettes/labels.hpp"
#include "compiler/palettes/svg.hpp"

namespace tallow::palettes {

// The page is as wide as A4 at four units for a millimetre.
inline constexpr double page_width = 840, page_height = 1188;
inline constexpr Box plot{66, 84, 66 + 744, 84 + 744};  // u′ 0..0.62 by v′ 0..0.62

// Where a chromaticity lies on the page.
svg::Spot on_page(colour::Uv uv);
svg::Spot on_page(colour::Chromaticity xy);

// The drawing; what it writes is kept free of names.
std::string chart(Labels& labels);

}  // namespace tallow::palettes
