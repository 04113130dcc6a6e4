// Ways to put a show on a desk: first those that lose nothing, then what fits for a loss.
#pragma once

#include <string>
#include <vector>

#include "compiler/fit/trial.hpp"

namespace tallow::fit {

struct Way {
    Plan plan;
    std::vector<Slot> at;            // of each fixture, its first slot
    std::uint32_t channels = 0;      // that it takes
    std::vector<Index> layouts;      // into Desk::layouts: those that it fits
    std::vector<std::string> what;   // is done: gangs and modes, against the show's own patch
    bool lossless = false;           // each fixture gives the same light at all times
    std::vector<std::string> lost;   // else what differs
    double worst = 0;                // the largest difference of a level or value, 0..1 of full
    std::vector<std::string> desks;  // other desks that play a universe without fixtures then
};

struct Ways {
    std::vector<Way> all;
    std::vector<std::string> refused;  // what would save channels, but for a line that is an error then
};

// Each way compiles. Those without loss come first, the fewest channels first. The others give up more and
// more: those that keep more channels come first, then those that lose less. The show as it is patched is
// among them. None: it has no fixture.
Ways find_ways(const Tester& tester, const show::Desk& desk);

// The first that fits a layout; of those that fit none, the one with the fewest channels.
std::size_t chosen_way(const std::vector<Way>& ways);

}  // namespace tallow::fit
