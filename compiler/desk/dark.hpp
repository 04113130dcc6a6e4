// Faders that show nothing because their fixture's own master is down.
#pragma once

#include "compiler/desk/pictures.hpp"

namespace tallow::desk {

// For each of the first `width` channels those that have to be up for it to show: the masters above it that
// stand on them.
using Masters = std::vector<std::vector<std::size_t>>;
Masters masters_of(const show::Show& show, const Pictures& pictures, std::size_t width);
// Whether one of them is at zero. Then the channel counts in no plan, no error and no loss.
bool is_down(const Picture& picture, const std::vector<std::size_t>& masters);
// Whether one of them gives no light in the show, wherever its fader stands: by no wave and no chase either.
bool is_dark(const Picture& picture, const std::vector<std::size_t>& masters);
// Whether a cue ever lights a channel: what moves does at its highest. Not where its fixture gives no light.
bool lights(const Picture& picture, const Masters& masters, std::size_t c);

// What a scene holds for a cue: a row for each cue and a column for each channel.
// Faders whose master is down in the cue and in the one before it show nothing, and may stand anywhere.
struct Needed {
    Levels must;  // Picture::set, or any_setting
    Levels best;  // the same, but a fader that shows nothing stands where the next cue needs it, if that
                  // brings its light up: then light comes up as it will be
};
Needed needed_settings(const Pictures& pictures, const Masters& masters);

}  // namespace tallow::desk
