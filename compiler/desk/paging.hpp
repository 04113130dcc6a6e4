// On which page and submaster of a desk each recording stands.
#pragma once

#include "compiler/desk/percent.hpp"

namespace tallow::desk {

struct Place {
    std::uint32_t page, submaster;  // from 1
};

// For recordings that stand at `positions` (cues × recordings) at the cues; no more of them than submasters ×
// pages. What a cue raises together is put on one page where an exchange of places can bring that about: the
// pages that cues use beyond their first are as few as exchanges find. Recordings that a cue raises together
// from several pages take submasters of different numbers where there are such: a submaster is one hand's,
// on one page at a time.
std::vector<Place> lay_on_pages(const Levels& positions, std::uint32_t submasters, std::uint32_t pages);

}  // namespace tallow::desk
