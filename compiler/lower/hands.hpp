// What hands hold beside the cues: submasters, the levels that nothing may go under, and the panic look.
#pragma once

#include "compiler/lower/sources.hpp"

namespace tallow::lower {

void add_submasters(const show::Show& show, track::Book& book, Sources& sources, runtime::Roll& roll);
void add_keeps(const track::Floors& floors, runtime::Roll& roll);
void add_panic(const show::Show& show, track::Book& book, const Sources& sources, runtime::Roll& roll);

}  // namespace tallow::lower
