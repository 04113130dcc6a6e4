// Where the colours lie on the diagram, and what they come to.
#pragma once

#include <string>
#include <vector>

#include "compiler/palettes/labels.hpp"
#include "compiler/palettes/report.hpp"

namespace tallow::palettes {

// Marks of the legend too.
std::string target_mark(svg::Spot at, const std::string& fill);
std::string result_mark(svg::Spot at, const std::string& fill);

// Before anything is named: no name covers a mark.
void keep_marks_free(const Report& report, Labels& labels);

// Targets, results, and names beside them; `unnamed` counts the names for which there was no room.
std::string marks(const Report& report, const std::vector<Index>& types, Labels& labels,
                  std::size_t& unnamed);

}  // namespace tallow::palettes
