// One colour on one kind of fixtures.
#pragma once

#include "compiler/palettes/report.hpp"

namespace tallow::palettes {

// Without Shown::share, which the other kinds decide.
Shown show_on(const Show& show, const Report& report, Index kind, const track::TypeColour& colour,
              std::optional<colour::Chromaticity> target);

}  // namespace tallow::palettes
