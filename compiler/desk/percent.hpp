// Levels of faders in exact parts of a percent, and what a hand can set.
#pragma once

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <vector>

#include "runtime/engine/integers.hpp"

namespace tallow::desk {

// Millionths of a percent: 0..100 000 000.
using Percent = std::int64_t;
inline constexpr Percent all_of_it = 100'000'000;
// In place of a level: it may be any.
inline constexpr Percent any_setting = -1;

// A hand sets a fader to a multiple of the notch (1 or more), or to full.
// The highest setting that is not above a level. level >= 0.
inline Percent setting_below(Percent level, Percent notch) {
    return level >= all_of_it ? all_of_it : level / notch * notch;
}
// The lowest that is not below it; more than full where there is none. level >= 0.
inline Percent setting_above(Percent level, Percent notch) {
    return level > all_of_it ? level : std::min((level + notch - 1) / notch * notch, all_of_it);
}
// The nearest; of two as near, the higher. 0 <= level <= full.
inline Percent nearest_setting(Percent level, Percent notch) {
    const Percent below = setting_below(level, notch), above = std::min(below + notch, all_of_it);
    return level - below < above - level ? below : above;
}

// A level of the show is a whole number of steps: half of one, rounded up. A level counts as reached from
// there on.
inline constexpr Percent half_step = all_of_it / (2 * Percent{runtime::full}) + 1;
// The lowest that a level which may not go under a floor comes to, and the lowest setting that keeps to it.
inline Percent least_level(Percent floor) {
    return std::max<Percent>(floor - half_step, 0);
}
inline Percent least_setting(Percent floor, Percent notch) {
    return setting_above(least_level(floor), notch);
}

// Levels in rows and columns.
class Levels {
  public:
    Levels() = default;
    Levels(std::size_t rows, std::size_t columns, Percent level = 0)
        : rows_(rows), columns_(columns), level_(rows * columns, level) {}

    std::size_t rows() const { return rows_; }
    std::size_t columns() const { return columns_; }
    Percent& at(std::size_t row, std::size_t column) { return level_[row * columns_ + column]; }
    Percent at(std::size_t row, std::size_t column) const { return level_[row * columns_ + column]; }
    bool operator==(const Levels&) const = default;

  private:
    std::size_t rows_ = 0, columns_ = 0;
    std::vector<Percent> level_;
};

}  // namespace tallow::desk
