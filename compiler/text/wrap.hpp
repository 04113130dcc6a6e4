// Text in lines of a given width.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace tallow::text {

// Names come from the show: signs that would move the printer's head become blanks.
std::string clean(std::string text);

// Words in lines of at most `width` columns, one blank between two; a longer word stands alone. At least one
// line.
std::vector<std::string> wrapped(const std::string& paragraph, std::size_t width);

inline constexpr std::size_t unwrapped = std::string::npos;  // a width for lines that are never broken

// A line behind `indent` blanks, ended by a line feed. One too long for `width` columns goes on below,
// four blanks further in.
std::string indented(const std::string& line, std::size_t indent, std::size_t width);

}  // namespace tallow::text
