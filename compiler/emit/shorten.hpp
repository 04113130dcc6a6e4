// What would fill a whole page by its length alone is shortened, and says so.
#pragma once

#include <string>
#include <vector>

#include "compiler/emit/measure.hpp"

namespace tallow::emit {

// The first lines, `most` and one at least; where more were there, the last ends in `…`.
std::vector<std::string> shortened(std::vector<std::string> lines, std::size_t most, Style style,
                                   Length width);

// A text that takes `most` lines of this width, shortened where it is longer.
std::string shortened(const std::string& text, std::size_t most, Style style, Length width);

}  // namespace tallow::emit
