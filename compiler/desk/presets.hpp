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
    std::vector<Percent> set;           // where each fader that the layout gives stands then
    std::vector<bool> moves;            // against what the scene held last (at the start: all down)
    std::uint32_t move_count = 0;
    std::uint64_t work = 0;             // milliseconds that the moves take: moves × reach
    std::optional<std::uint64_t> room;  // milliseconds that hands have, where the show fixes it
    Percent dip = 0;                    // how far light that stays falls at most, both masters moved together
    std::vector<std::size_t> dips;  // the channels that fall by more than a notch, into Pictures::channels
    bool in_time() const { return !room || work <= *room; }
};

// With two scenes or more, A and B take turns, and hands set the one that is dark: from the end of the
// crossfade out of it to the GO that brings it back. With one scene the faders of the running picture are
// moved during the cue, and hands have until the next cue. A layout without scenes has no presets.
//
// A cue takes no scene where the picture that is up shows it already. A fader that shows nothing
// (desk/dark.hpp) stays where its scene had it last, unless the next cue needs it elsewhere: no plan that
// gives each new picture the other scene has fewer moves.
//
// A dip is computed for two scenes joined by the highest, both masters in straight lines at once: levels a
// and b meet at a·b / (a + b), which is below the lower of them.
std::vector<Preset> make_presets(const show::Show& show, const show::Desk& desk, const show::Layout& layout,
                                 const Pictures& pictures, const Looks& looks);

// From the GO of a cue of the main list to the start of the next, in milliseconds, where the show fixes it.
std::optional<std::uint64_t> until_next(const show::Show& show, Index cue);

// When the desk's crossfade to a cue ends, in milliseconds from its GO: it starts after the delay of the cue,
// and takes its times for levels.
std::uint64_t crossfade_end(const show::Cue& cue);

}  // namespace tallow::desk
