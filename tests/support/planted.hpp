// Tasks for submasters that are known to have an answer, and a check of answers that shares no code with the
// planner.
#pragma once

#include "compiler/desk/submasters/plan.hpp"
#include "tests/support/random.hpp"

namespace tallow::test {

// Cues that so many recordings at random settings give exactly; both at 0 in some places in a hundred.
desk::Levels planted(Random& random, std::size_t cues, std::size_t channels, std::size_t recordings,
                     desk::Percent notch, unsigned down = 40);

// Within half a notch.
desk::submasters::Task task_for(const desk::Levels& wanted, desk::Percent notch, std::size_t most = 1000);

// The largest distance of what a plan gives from what is wanted, in parts of 10⁻¹⁶ (100% is 10¹⁶); -1 where a
// position or a level is no setting of a hand.
std::int64_t worst_distance(const desk::Levels& wanted, const desk::submasters::Plan& plan,
                            desk::Percent notch);

// Whether every two of the cells keep the condition that desk/submasters/clique.hpp states, within half a
// notch.
bool all_apart(const desk::Levels& wanted, const std::vector<desk::submasters::Cell>& cells,
               desk::Percent notch);

}  // namespace tallow::test
