// What starts a cue, and what it starts.
#pragma once

#include <string>

#include "compiler/show/show.hpp"

namespace tallow::show {

// The cue that starts this one by itself; none where that is the operator's GO or timecode.
Index starter(const Show& show, Index cue);

// `GO`, `GO: the ferry's horn`, `by itself, 2s after cue 3 is complete`, `timecode 00:00:45:00`.
std::string trigger_text(const Show& show, Index cue);

// `follow 2s`, `next-at 10s`; empty: the next one waits for its GO.
std::string next_text(const Cue& cue);

}  // namespace tallow::show
