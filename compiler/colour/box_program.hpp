// The linear programme behind every colour solution: levels between 0 and 1, two equations.
#pragma once

#include <span>
#include <vector>

namespace tallow::colour {

struct Pair {
    double a, b;
};

// One unknown: what a level of 1 gains, and what it adds to the two equations.
struct Column {
    double gain;  // above 0
    Pair pull;
};

// The levels in 0..1 with Σ level·pull = 0 that gain the most; of several, the least total of levels, then of
// their squares. All pulls 0 or along one direction: then their second component must be exactly 0.
std::vector<double> most_gain(std::span<const Column> columns);

}  // namespace tallow::colour
