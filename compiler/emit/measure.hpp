// How much paper a text takes. The answer comes from a table, never from the fonts of a machine: the same
// show breaks into the same lines and pages everywhere. The widths are those of a wide sans-serif face, so
// that common faces fit into what is measured here.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "compiler/emit/paper.hpp"

namespace tallow::emit {

struct Style {
    std::uint8_t points = 11;  // 1/72 inch; nothing on a sheet is smaller than 11
    bool bold = false;
    bool operator==(const Style&) const = default;
};

// The em of a style and the height of its lines, rounded up.
Length em(Style style);
Length line_height(Style style);

// Rounded up. `text` is valid UTF-8; blanks at its end count.
Length text_width(std::string_view text, Style style);

// The width of its longest word.
Length widest_word(std::string_view text, Style style);

// Lines of at most `width`, broken behind blanks, or inside a word that has no room in a line of its own; one
// character at least in each. Put together they are the text again, but that control characters became
// blanks: a line keeps the blanks at its end, which take no room. At least one line.
std::vector<std::string> broken(std::string_view text, Style style, Length width);

}  // namespace tallow::emit
