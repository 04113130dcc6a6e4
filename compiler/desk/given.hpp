// What a desk gives at each cue.
#pragma once

#include <vector>

#include "compiler/desk/presets.hpp"
#include "compiler/desk/recordings.hpp"

namespace tallow::desk {

// By cue; of the channels that the layout gives.
using Given = std::vector<std::vector<Percent>>;

// As the faders of the scenes stand.
Given given_by(const std::vector<Preset>& presets);
// As the raised submasters give it: on each channel the highest.
Given given_by(const Recordings& recordings, std::size_t width);

}  // namespace tallow::desk
