// The distinct pictures of a show on the channels that a layout gives.
#pragma once

#include <string>
#include <vector>

#include "compiler/desk/pictures.hpp"

namespace tallow::desk {

struct Looks {
    std::size_t width = 0;      // channels (into Pictures::channels) that the layout gives; it lacks the rest
    std::vector<Index> of_cue;  // the look of each cue; none: all faders are down
    std::vector<Index> first;   // of each look, the cue that brings it first
};

Looks find_looks(const Pictures& pictures, const show::Layout& layout);

// Numbers as ranges, in any order and as often as they come: `1, 3-6, 9`.
std::string ranges_text(std::vector<std::uint32_t> numbers);
// The same behind `channel` or `channels`.
std::string channels_text(std::vector<std::uint32_t> numbers);

}  // namespace tallow::desk
