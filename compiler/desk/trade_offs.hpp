// Plans of still fewer channels, each step of which loses something.
#pragma once

#include "compiler/desk/place.hpp"

namespace tallow::desk {

// From `plan` on, ever more steps of the least loss: two gangs made one, or fixtures of one name in a smaller
// mode. The plans after the first few steps, and those that are the first to fit a layout that `plan` does
// not, at most `most`; none where `plan` fits every layout.
std::vector<Plan> trade_offs(const Placer& placer, const Plan& plan, std::size_t most);

}  // namespace tallow::desk
