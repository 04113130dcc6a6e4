// Which parameters a wave on a selection moves.
#pragma once

#include <vector>

#include "compiler/show/show.hpp"

namespace tallow::track {

using show::Index;

// One parameter of a wave.
struct WaveRow {
    Index parameter;
    std::uint32_t member;  // place in the selection, from 0
    Index component;  // into Wave::components; none: an emitter that the wave does not name, which it holds
                      // at 0
    bool operator==(const WaveRow&) const = default;
};

struct WaveReach {
    std::vector<WaveRow> rows;  // by parameter
    std::vector<Index>
        released;  // parameters of a class of the wave that it leaves alone: an earlier wave on them ends
};

WaveReach wave_reach(const show::Show& show, const show::Wave& wave, const show::Selection& selection);

}  // namespace tallow::track
