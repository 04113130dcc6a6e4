// What the operator sees while a show plays (CONSOLE.md).
#pragma once

#include <string>
#include <vector>

#include "runtime/control/view.hpp"

namespace tallow::runtime {

// One screen of a view, whose progress is that of its roll: `rows` lines of at most `columns` columns, in
// plain words; bold is the only mark (ESC [1m … ESC [0m). No byte of a label or note reaches the terminal as
// a control character. Any size is good; where room is short, what matters least is left out.
std::vector<std::string> draw(const View& view, unsigned columns, unsigned rows);

}  // namespace tallow::runtime
