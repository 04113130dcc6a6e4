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

// The stroke of the type at this place.
std::string line_style(std::size_t type);

// The hull of what a type can mix: its visible emitters, or the sRGB primaries for filters.
struct Gamut {
    std::vector<svg::Spot> corners;
    std::vector<std::size_t> types;  // that share it: places in types_of(); drawn in the style of the first
};
// Wheels have none.
std::vector<Gamut> gamuts_of(const Show& show, const std::vector<Index>& types);

std::string draw(const std::vector<Gamut>& gamuts, Labels& labels);

}  // namespace tallow::palettes
