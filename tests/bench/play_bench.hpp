#pragma once

#include "tests/bench/bench.hpp"

namespace tallow::bench {

// Packets per second of the player's sender against bare sendmmsg, and lateness of its frames against
// clock_nanosleep.
std::vector<Row> play_rows();

}  // namespace tallow::bench
