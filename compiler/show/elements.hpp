// Fixtures and cells in the words of a selection.
#pragma once

#include <string>
#include <vector>

#include "compiler/show/show.hpp"

namespace tallow::show {

// `front 1..4, 6, house, cyc 2 cell 3..5`: the elements in their order, neighbours of one name as a range. A
// gang counts as all its fixtures.
std::string elements_text(const Show& show, const std::vector<Element>& elements);

}  // namespace tallow::show
