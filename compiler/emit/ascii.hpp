// Cues as ASCII Text Representation for Lighting Console Data, version 3.0 (USITT, 1992). What is known of it
// here is second-hand: the standard's own text was not read, and the file says so.
#pragma once

#include <string>

#include "compiler/emit/sheet.hpp"

namespace tallow::emit {

// Lines of at most 80 characters, ended by a line feed. Levels are whole percents, rounded to nearest, zeros
// too; what is not ASCII in a text becomes `?`, and `!`, which begins a comment, a full stop.
std::string ascii(const SheetSet& set);

}  // namespace tallow::emit
