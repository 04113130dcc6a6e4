// How the HTML of sheets looks, on screen and on paper.
#pragma once

#include <string>

#include "compiler/emit/paper.hpp"

namespace tallow::emit {

// `16.5mm`
std::string millimetres(Length length);

// A style sheet. In print, places and widths come from the properties `--x`, `--y`, `--w`, `--h` that the
// elements carry, so that the pages are those of the page model.
std::string html_style(const Paper& paper);

}  // namespace tallow::emit
