// A show on submasters: one recording for each distinct look, and which go up and down at each cue.
#pragma once

#include <vector>

#include "compiler/desk/looks.hpp"

namespace tallow::desk {

struct Recording {
    Index first_cue;              // whose picture it holds
    std::vector<Index> cues;      // that use it
    std::uint32_t page = 0;       // from 1; 0: the layout has no room for it
    std::uint32_t submaster = 0;  // from 1; 0: no room
};

// By the cue that needs each first; submaster by submaster, page by page.
std::vector<Recording> make_recordings(const Looks& looks, const show::Layout& layout);

struct RunStep {
    Index cue;
    Index up, down;  // recordings to bring to full and to take out, or none
};

std::vector<RunStep> make_run(const Looks& looks);

}  // namespace tallow::desk
