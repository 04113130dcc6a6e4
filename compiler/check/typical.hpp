// What rests on emitters that were not measured.
#pragma once

#include <string>
#include <vector>

#include "compiler/check/wave_colours.hpp"

namespace tallow::check {

// A type in use with typical emitters, and what of the show would look otherwise if they were others.
struct TypicalUse {
    Index type;
    std::vector<std::string> colours;  // palettes, colours as written, `wave rainbow`; each once
};

// In the order of Show::types. Emitters that a palette names stay as they are, so it rests on none. In a
// balanced group a colour of one type rests on all types of the group.
std::vector<TypicalUse> typical_uses(const Show& show, const track::Colours& colours,
                                     const std::set<HueTurn>& hues);

// Whether a solved colour on such fixtures rests on typical emitters of any type.
bool rests_on_typical(const Show& show, track::Alike fixtures);

// `    par-rgb: amber, moonlight and 3 more`: each ended, at most 80 columns wide unless a name is longer.
std::string render(const std::vector<TypicalUse>& uses, const Show& show);

}  // namespace tallow::check
