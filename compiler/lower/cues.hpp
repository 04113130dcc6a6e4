// The cues of a list as a roll holds them.
#pragma once

#include "compiler/lower/sources.hpp"

namespace tallow::lower {

// Adds a list of the show behind those that the roll has.
void add_list(const show::Show& show, track::Book& book, Index list, Sources& sources, runtime::Roll& roll);

}  // namespace tallow::lower
