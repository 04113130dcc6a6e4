#pragma once

#include "tests/bench/bench.hpp"

namespace tallow::bench {

// Time and size of an hour's frames file of 8 universes against zstd over the raw frames.
std::vector<Row> frames_rows();

}  // namespace tallow::bench
