// On which page and submaster of a desk each recording stands.
#pragma once

#include "compiler/desk/percent.hpp"

namespace tallow::desk::submasters {

struct Place {
    std::uint32_t page, submaster;  // from 1
};

// For recordings that stand at `positions` (cues × recordings) at the cues; no more of them than submasters ×
// pages. No exchange of two places and no move to a free one gains anything more, by this measure: first the
// pages that cues use beyond their first; then cues that would raise one submaster on two pages at once (it
// is one hand's, on one page at a time); then cues at which a submaster goes down on one page and comes up on
// another. The search ends after some rounds at the latest.
std::vector<Place> lay_on_pages(const Levels& positions, std::uint32_t submasters, std::uint32_t pages);

}  // namespace tallow::desk::submasters
