// The colours of waves.
#pragma once

#include <cstdint>
#include <set>

#include "compiler/track/tracker.hpp"

namespace tallow::check {

using show::Index;
using show::Show;

// A wave that turns the hue, on fixtures that show colours alike.
struct HueTurn {
    Index wave;       // into Show::waves
    Index component;  // into Wave::components
    track::Alike fixtures;
    std::int64_t swing;  // of it, in millionths of a percent
    auto operator<=>(const HueTurn&) const = default;
};

// Asks the book for both ends of every colour wave that the tracker has put on, as its lines were for theirs;
// adds turns of the hue.
void ask_for_wave_colours(const Show& show, const track::Tracker& tracker, track::Book& book,
                          std::set<HueTurn>& hues);

// How far such fixtures miss a hue of the turn at the worst.
struct Miss {
    double distance = 0;  // Δu′v′, or colour::no_light
    double degrees = 0;   // where
};
Miss worst_miss(const Show& show, const track::Colours& colours, const HueTurn& turn);

}  // namespace tallow::check
