// How slots follow levels.
#pragma once

#include <vector>

#include "runtime/roll/roll.hpp"

namespace tallow::runtime {

// Between knots (l0, s0) and (l1, s1): s0 + (s1 − s0)·(level − l0)/(l1 − l0), rounded to the nearest, halves
// up.
Level respond(const Response& response, Level level);

// The same of each level from 0 to 65535.
std::vector<Level> response_table(const Response& response);

}  // namespace tallow::runtime
