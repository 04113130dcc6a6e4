// The report as text, as JSON and as a picture. grammar/COLOURS.md describes them.
#pragma once

#include <string>

#include "compiler/palettes/report.hpp"

namespace tallow::palettes {

// A table for each colour, 80 columns wide unless a name is longer.
std::string text(const Show& show, const Report& report);
std::string json(const Show& show, const Report& report);
// The CIE 1976 u′v′ diagram as SVG.
std::string diagram(const Show& show, const Report& report);

}  // namespace tallow::palettes
