// The colours of waves.
#pragma once

#include <vector>

#include "compiler/track/tracker.hpp"

namespace tallow::check {

using show::Index;
using show::Show;

// A wave that turns the hue, on fixtures that show colours alike.
struct HueTurn {
    track::Alike fixtures;
    Index wave;          // into Show::waves
    Index component;     // into Wave::components
    std::int64_t swing;  // of it, in millionths of a percent
    bool operator==(const HueTurn&) const = default;
};

// Asks the book for both ends of every colour wave that the tracker has put on, as its lines were for theirs;
// adds turns of the hue, each once.
void ask_for_wave_colours(const Show& show, const track::Tracker& tracker, track::Book& book,
                          std::vector<HueTurn>& hues);

// How far such fixtures miss a hue of the turn at the worst, tried degree by degree.
struct Miss {
    double distance = 0;  // Δu′v′
    double degrees = 0;   // where
};
Miss worst_miss(const Show& show, const track::Colours& colours, const HueTurn& turn);

}  // namespace tallow::check
