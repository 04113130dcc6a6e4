// The chases of a roll as they run: when each began, and what its rows stand at.
#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "runtime/roll/roll.hpp"

namespace tallow::runtime {

// Rows are numbered through all chases of the roll. Only chases that are asked for are evaluated.
class RunningChases {
  public:
    explicit RunningChases(const Roll& roll);

    // The row of a parameter in a chase that moves it.
    std::uint32_t row(std::uint32_t chase, std::uint32_t parameter) const;
    // The lowest and the highest level of a row's steps.
    Level low(std::uint32_t row) const { return low_[row]; }
    Level high(std::uint32_t row) const { return high_[row]; }

    // Begins a chase at tick g, with its first step.
    void start(std::uint32_t chase, Tick g) { chases_[chase].began = g; }
    bool has_run(std::uint32_t chase) const { return chases_[chase].began.has_value(); }
    // Whether a row of it is wanted.
    bool wanted(std::uint32_t chase) const { return chases_[chase].wanted; }
    std::optional<Tick> began(std::uint32_t chase) const { return chases_[chase].began; }
    // The beginning may lie before tick 0, modulo 2^64.
    void set_began(std::uint32_t chase, std::optional<Tick> began) { chases_[chase].began = began; }

    // Which rows evaluate() is to compute: none, then those that are wanted.
    void want_none();
    void want(std::uint32_t row);
    // Sets the level of every row of the chases of which a row is wanted.
    void evaluate(Tick t);
    const Level* levels() const { return level_.data(); }  // by row

  private:
    struct Running {
        std::optional<Tick> began;
        std::uint32_t first_row = 0;
        bool wanted = false;
    };
    // Where a chase stands: on its way from one step to another.
    struct Place {
        std::size_t from, to;  // steps
        Weight weight;
    };
    Place place(std::uint32_t chase, Tick t) const;

    const Roll& roll_;
    std::vector<Running> chases_;
    std::vector<std::vector<Tick>> ends_;  // by chase: when each step ends, from the round's beginning
    std::vector<std::uint32_t> chase_of_;  // by row
    std::vector<Level> low_, high_, level_;
    std::vector<std::uint32_t> live_;
};

}  // namespace tallow::runtime
