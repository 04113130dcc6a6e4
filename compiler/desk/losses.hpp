// What the desk cannot do of a show, cue by cue, in words and numbers: nothing is dropped silently.
#pragma once

#include <string>
#include <vector>

#include "compiler/desk/pictures.hpp"

namespace tallow::desk {

struct Loss {
    Index cue;         // into Show::cues
    std::string kind;  // wave, time, delay, curve, start, jump, dark, range, fine, rounding, outside
    std::string text;
};

// By cue; within a cue in the order of the kinds above.
std::vector<Loss> find_losses(const show::Show& show, track::Book& book, const show::Layout& layout,
                              const Pictures& pictures);

}  // namespace tallow::desk
