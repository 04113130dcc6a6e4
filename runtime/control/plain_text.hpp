// Text for a terminal's screen: nothing in it but signs that can be seen, and measured in columns.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

namespace tallow::runtime {

// What becomes of blanks in a row: one, and none at the ends; or all of them, so that columns stay.
enum class Blanks : std::uint8_t { one, all };

// Any bytes as one line of valid UTF-8: blanks, tabs and line ends are blanks; control characters and what
// is no UTF-8 become U+FFFD; characters without a shape (of direction, joining, variation) and marks beyond
// four on one letter are left out, because terminals differ in what they take up.
std::string plain(std::string_view bytes, Blanks blanks = Blanks::one);

// All below take plain text. Wide characters have two columns, marks none.
unsigned width(std::string_view text);

// At most so many columns; where something is left out, the last of them is `…`.
std::string cut(std::string_view text, unsigned columns);

// With blanks behind it up to so many columns; what is longer is cut.
std::string padded(std::string_view text, unsigned columns);

// Lines of at most so many columns, broken at blanks, or in a word that is longer than a line. At most
// `lines`; where something is left out, the last one ends in `…`.
std::vector<std::string> wrap(std::string_view text, unsigned columns, std::size_t lines);

}  // namespace tallow::runtime
