// How near a desk comes to the show, cue by cue.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "compiler/desk/chases.hpp"
#include "compiler/desk/given.hpp"

namespace tallow::desk {

struct Fidelity {
    Index cue;
    Percent level = 0;                // the largest difference of a channel from what the show has
    std::size_t channel = 0;          // there; into Pictures::channels
    double colour = 0;                // the largest Δu′v′ of a fixture or cell that is lit
    std::optional<show::Element> of;  // that one; none: no colour is off
    std::vector<std::string> waves;   // what became of each: `chase 1 plays tide`, `ripple stands still`
    std::optional<std::uint64_t> room;
    bool in_time = true;
};

// What the desk gives is judged, by the submasters, or where `recordings` is null by the scenes. A channel
// past the layout is dark; one that shows nothing because its fixture's master is down (is_down) is not
// judged. A chase counts with its worst, a wave or a chase of the show that stands still with its way from
// there. Colours are those of emitters and filters, before and after, at the cue's own levels.
std::vector<Fidelity> judge(const show::Show& show, const Pictures& pictures, const Chases& chases,
                            const Given& given, const std::vector<Preset>& presets,
                            const Recordings* recordings);

// What the cues come to, in a sentence.
std::string summary(const show::Show& show, const std::vector<Fidelity>& cues, Percent notch);

}  // namespace tallow::desk
