// Lines that are drawn point by point.
#pragma once

#include <string_view>
#include <vector>

#include "compiler/show/scope.hpp"

namespace tallow::show {

// `0% 0%, 20% full, 100% out`: places, which never go back, and levels there; two at least. `what` a place
// is, for messages: "a place in the turn".
std::vector<Point> read_points(Reader& reader, std::string_view what);

}  // namespace tallow::show
