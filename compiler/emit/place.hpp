// A page as things at their places: what a pen or a printer needs. All lengths from the upper left corner of
// the paper, downwards.
#pragma once

#include <string>
#include <vector>

#include "compiler/emit/page.hpp"

namespace tallow::emit {

// One line of text in its room: it stands at the left, in the middle or at the right of it. Turned: it reads
// upward, and begins at the lower edge.
struct Run {
    Length x, y, width, height;
    std::string text;  // no blanks at its end
    Style style;
    Align align;
    bool turned;
};

// A rule, filled; boxes are made of four.
struct Bar {
    Length x, y, width, height;
};

struct Placed {
    std::vector<Run> runs;
    std::vector<Bar> bars;
};

Placed placed(const Page& page);

}  // namespace tallow::emit
