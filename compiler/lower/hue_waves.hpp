// Waves that turn the hue: a waveform for each emitter, since levels do not follow a hue in straight lines.
#pragma once

#include "compiler/show/show.hpp"
#include "compiler/track/colours.hpp"
#include "runtime/roll/roll.hpp"

namespace tallow::lower {

// Of each emitter of such fixtures: its level, of full, over one turn of the wave, swing and saturation taken
// in. The levels go straight from degree to degree, and over shorter stretches where they bend. Against the
// exact solution an 8-bit slot differs by 1 at the most.
std::vector<runtime::Waveform> hue_waveforms(const track::Colours& colours, track::Alike fixtures,
                                             const show::WaveShape& shape, const show::Component& component);

}  // namespace tallow::lower
