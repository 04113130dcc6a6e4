// A show on scenes: what each fader is set to, cue by cue, and whether hands can keep up.
#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "compiler/desk/looks.hpp"

namespace tallow::desk {

struct Preset {
    Index cue;
    std::optional<std::uint8_t> scene;  // 0 is A, 1 is B; none: the picture stays as it is
    std::vector<Percent> set;           // of each channel that the layout gives
    std::vector<bool> moves;            // against what the scene held last (at the start: all down)
    std::uint32_t move_count = 0;
    std::uint64_t work = 0;             // milliseconds that the moves take: moves × reach
    std::optional<std::uint64_t> room;  // milliseconds that hands have, where the show fixes it
    bool in_time() const { return !room || work <= *room; }
};

// With two scenes or more, A and B take turns, and hands set the one that is dark: from the end of the
// crossfade out of it to the GO that brings it back. With one scene the faders of the running picture are
// moved during the cue, and hands have until the next cue. A layout without scenes has no presets.
std::vector<Preset> make_presets(const show::Show& show, const show::Desk& desk, const show::Layout& layout,
                                 const Pictures& pictures, const Looks& looks);

// From the GO of a cue of the main list to the start of the next, in milliseconds, where the show fixes it.
std::optional<std::uint64_t> until_next(const show::Show& show, Index cue);

// When the desk's crossfade to a cue ends, in milliseconds from its GO: it starts after the delay of the cue,
// and takes its times for levels.
std::uint64_t crossfade_end(const show::Cue& cue);

}  // namespace tallow::desk
