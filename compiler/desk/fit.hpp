// How a show fits each layout of a desk, and which layout loses least.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "compiler/desk/looks.hpp"
#include "compiler/desk/presets.hpp"
#include "compiler/desk/recordings.hpp"
#include "compiler/desk/staging.hpp"

namespace tallow::desk {

struct Fit {
    Index layout;                          // into Desk::layouts
    std::vector<std::uint32_t> outside;    // channels past the layout that some cue lights
    std::size_t pushed = 0;                // slots that some cue lights, on no channel by `channel` lines
    std::uint64_t lost = 0;                // settings, cue by cue, that the layout cannot show
    std::optional<Recordings> recordings;  // of a layout with submasters, or without scenes
    std::size_t late =
        0;               // cues for which hands are too slow: presets, or where there is no scene, submasters
    std::string reason;  // in words
    bool fits() const { return lost == 0; }
};

// One for each layout, in order.
std::vector<Fit> fit_layouts(const show::Show& show, const show::Desk& desk, const Stagings& stagings);

// The layout that loses least; of several, the one with the fewest late presets, then two scenes before
// recordings before one scene, then the first. none: the desk has no layout.
Index best_layout(const show::Desk& desk, const std::vector<Fit>& fits);

}  // namespace tallow::desk
