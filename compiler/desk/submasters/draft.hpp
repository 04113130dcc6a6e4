// One submaster while a plan is searched for: the cells that it has to serve, and what that leaves open.
//
// To serve a set of cells within the bounds is a system of conditions of two kinds:
// S(i)·B(j) >= low(i,j) for the cells, S(i)·B(j) <= high(i,j) for all. Written with positions S and with 1/B
// both kinds say that one value is at least another's multiple, so where there is a solution there is one
// with the lowest positions and the highest levels, also among the settings of a hand. The draft is that
// solution: it starts with all positions down and all levels full, and goes only as far as the cells force
// it.
#pragma once

#include <cstddef>
#include <cstdint>
#include <vector>

#include "compiler/desk/submasters/bounds.hpp"
#include "compiler/desk/submasters/clique.hpp"

namespace tallow::desk::submasters {

class Draft {
  public:
    // What it does is counted in `work`, in about nanoseconds, the same on every machine.
    Draft(const Bounds& bounds, Percent notch, std::uint64_t& work);

    // Takes the cell on; false, and nothing changes, where no position and level of a hand serve it with
    // those that it has, or where that is not found out in a few changes for each cue and channel (very fine
    // notches can creep). low(cell) > 0.
    bool add(Cell cell);
    // Whether add() would be true.
    bool can_add(Cell cell);
    void clear();

    const std::vector<Cell>& cells() const { return cells_; }
    Percent level(std::size_t channel) const { return level_[channel]; }  // the highest
    // The highest position at a cue that these levels allow.
    Percent top(std::size_t cue) const;

  private:
    struct Change {
        bool position;
        std::size_t at;
        Percent was;
    };
    bool serve(Cell cell);
    bool settle(std::size_t cue, Percent position);
    bool lower(std::size_t channel, Percent level);
    void let_go(Cell cell);

    const Bounds* bounds_;
    Percent notch_;
    std::uint64_t* work_;
    std::vector<Percent> position_, level_;
    std::vector<Cell> cells_;
    std::vector<std::vector<std::size_t>> cues_of_;  // of each channel, those of its cells
    std::vector<Change> changes_;                    // since the last cell
    std::size_t most_changes_;
    std::vector<std::pair<std::size_t, Percent>> raised_;
};

}  // namespace tallow::desk::submasters
