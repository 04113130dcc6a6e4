// The last tie between emitter levels.
#pragma once

#include <span>
#include <vector>

namespace tallow::colour {

// The levels in 0..1 with Σ level = total and Σ level·place = moment whose squares add up to the least.
// Such levels must exist, up to rounding; places are of the order of 1.
std::vector<double> even_levels(std::span<const double> place, double total, double moment);

}  // namespace tallow::colour
