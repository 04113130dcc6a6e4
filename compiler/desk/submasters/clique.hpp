// How many submasters a show needs at the least, with a reason that a person can check.
//
// The reason is a set of cells (cue i, channel j), each with low(i,j) > 0, in which for every two cells (i,j)
// and (k,l)
//
//     low(i,j) · low(k,l)  >  high(i,l) · high(k,j).                                                    (*)
//
// No submaster serves two such cells, so each cell needs one of its own. Proof: a plan that keeps the bounds
// has for the cell (i,j) a recording r with S(i,r)·B(r,j) >= low(i,j), the one that is highest there. Suppose
// that r serves (k,l) as well. No product is above the highest, so S(i,r)·B(r,l) <= high(i,l) and
// S(k,r)·B(r,j) <= high(k,j). Then low(i,j)·low(k,l) <= S(i,r)·B(r,j)·S(k,r)·B(r,l) =
// S(i,r)·B(r,l)·S(k,r)·B(r,j) <= high(i,l)·high(k,j), against (*). Nothing in this asks positions and levels
// to be settings of a hand: the bound holds for every real position and level of at least 0.
//
// Without a tolerance (low = high) this is the condition of the project's references for max-times
// factorisation.
#pragma once

#include <cstddef>
#include <vector>

#include "compiler/desk/submasters/bounds.hpp"

namespace tallow::desk::submasters {

struct Cell {
    std::size_t cue, channel;
    bool operator==(const Cell&) const = default;
};

// (*) above.
bool cannot_share(const Bounds& bounds, Cell a, Cell b);

// A large set of cells of which no two can share a submaster. Greedy from many starts, then exchanges of one
// cell: not always the largest, always valid. Bounded work, the same on every machine.
std::vector<Cell> cells_apart(const Bounds& bounds);

}  // namespace tallow::desk::submasters
