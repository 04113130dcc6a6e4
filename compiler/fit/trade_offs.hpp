// Plans of still fewer channels, each step of which loses something.
#pragma once

#include "compiler/fit/place.hpp"

namespace tallow::fit {

struct TradeOffs {
    std::vector<Plan> plans;
    std::vector<std::string> refused;  // smaller modes in which some line of the show is an error
};

// From `plan` on, ever more steps of the least loss: two gangs made one, or fixtures of one name in a smaller
// mode. The plans that are the first to fit a layout that `plan` does not (all steps, where none does), and
// before that those with all steps that lose at most 0.1, 1, 5, 10, 20 or 50 percent of full. None where
// `plan` fits every layout.
TradeOffs trade_offs(const Placer& placer, const Plan& plan);

}  // namespace tallow::fit
