// What the desk cannot do of a show, cue by cue, in words and numbers: nothing is dropped silently.
#pragma once

#include <string>
#include <vector>

#include "compiler/desk/chases.hpp"
#include "compiler/desk/given.hpp"

namespace tallow::desk {

struct Loss {
    Index cue;         // into Show::cues
    std::string kind;  // wave, chase, time, delay, curve, start, jump, dark, keep, range, fine, rounding,
                       // outside, steps, submasters, glow, mix
    std::string text;
};

// By cue; within a cue in the order of the kinds above. What shows nothing because its fixture's master is
// down (is_down) is no loss. `given`: what the desk gives; empty: the nearest settings. `recordings`: where
// the show is played from them alone, or null.
std::vector<Loss> find_losses(const show::Show& show, track::Book& book, const show::Layout& layout,
                              const Pictures& pictures, const Chases& chases, const Given& given,
                              const Recordings* recordings);

}  // namespace tallow::desk
