// Labels for the faders of a desk, and what its channels hold as a console's data.
#pragma once

#include "compiler/desk/pictures.hpp"
#include "compiler/emit/sheet.hpp"

namespace tallow::desk {

// A label for each channel of the layout: its number, and what it is.
emit::Sheet strip_sheet(const show::Layout& layout, const Pictures& pictures);

// Every cue of the main list with the levels of all channels that the layout has and a fader can set.
std::vector<emit::CueData> cue_data(const show::Show& show, const Pictures& pictures, std::size_t width);

}  // namespace tallow::desk
