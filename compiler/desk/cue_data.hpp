// What a desk's channels hold in each cue, as a console's data.
#pragma once

#include "compiler/desk/pictures.hpp"
#include "compiler/emit/sheet.hpp"

namespace tallow::desk {

// Every cue of the main list, with the first `width` channels (into Pictures::channels) but those that no
// fader can set.
std::vector<emit::CueData> cue_data(const show::Show& show, const Pictures& pictures, std::size_t width);

}  // namespace tallow::desk
