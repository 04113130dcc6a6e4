// What stands behind a cue's number and label: its times, and how the list goes on.
#pragma once

#include "compiler/show/scope.hpp"

namespace tallow::show {

void read_cue_header(const Scope& scope, Reader& reader, Cue& cue);
// `on "…"`, `page 34`, `note "…"`: in the header or on a line. False when the next atom is none of them.
bool read_remark(Reader& reader, Cue& cue);

}  // namespace tallow::show
