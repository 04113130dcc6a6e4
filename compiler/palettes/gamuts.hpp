// The gamuts of the types in use on the diagram, each with a line style and a letter.
#pragma once

#include <string>
#include <vector>

#include "compiler/palettes/labels.hpp"
#include "compiler/palettes/report.hpp"

namespace tallow::palettes {

// `A` … `Z`, then `A2` …
std::string letter_of(std::size_t type);

// Types in use, in the order of Report::kinds, each once: into Show::types.
std::vector<Index> types_of(const Report& report);

// A type's outline: around its visible emitters, or the sRGB primaries for filters. Empty for a wheel.
std::vector<svg::Spot> outline(const Show& show, Index type);

// The stroke of the type at this place.
std::string line_style(std::size_t type);

std::string gamuts(const Show& show, const std::vector<Index>& types, Labels& labels);

}  // namespace tallow::palettes
