// Waves and chases of a show as chases of a desk: which plays which channels in which cues.
#pragma once

#include <string>
#include <vector>

#include "compiler/desk/chase_steps.hpp"
#include "compiler/desk/pictures.hpp"

namespace tallow::desk {

struct Chase {
    std::uint32_t number;               // of the desk's, from 1
    std::uint64_t period;               // milliseconds, of a round
    std::vector<std::size_t> channels;  // into Pictures::channels; by number
    std::vector<std::string> of;        // what it plays: `ripple`, `chase runner`
    std::vector<Index> cues;            // in which it runs, by number
    ChaseSteps steps;                   // a mover for each channel
};

// What no chase of the desk does, in words.
struct NoChase {
    Index cue;
    std::string text;
};

struct Chases {
    std::vector<Chase> chases;
    std::vector<NoChase> missing;
};

// The waves and chases of a cue are one chase where their periods have a common multiple that the desk's
// steps are enough for, within half a notch; else each period is one. Chases are given to cues in their
// order, an equal one again, until the desk has none left. Where no number of steps that it has is within
// half a notch, it takes the one that is off by least. A desk without chases gets none, and nothing is said
// of it. What began at different GOs is taken as if it had begun together.
//
// What moves on none of the first `width` channels needs no chase. Channels that a chase plays are taken off
// the pictures of its cues: their faders stay down, since the highest takes precedence, and Picture::chase
// names it.
Chases take_chases(const show::Show& show, track::Book& book, const show::Desk& desk, std::size_t width,
                   Pictures& pictures);

}  // namespace tallow::desk
