// What a plan of submasters has to keep to: for each cue and channel the lowest and the highest level.
//
// Recording r holds levels B(r, channel), and stands at position S(cue, r); both are settings of a hand. On
// each channel the highest counts: max over r of S·B. A plan keeps the bounds when that lies between low and
// high on every cue and channel. Products are compared whole, in parts of 10⁻¹⁶: no rounding decides.
#pragma once

#include "compiler/desk/percent.hpp"

namespace tallow::desk::submasters {

struct Bounds {
    Levels low, high;  // cues × channels; 0 <= low <= high <= full
};

// Both ends included; low > high: nothing.
struct Between {
    Percent low, high;
};

// `tolerance` to each side of what is wanted, kept within 0..full.
Bounds bounds_around(const Levels& wanted, Percent tolerance);

// A product of a position and a level against a level.
inline constexpr bool reaches(Percent position, Percent level, Percent low) {
    return position * level >= low * all_of_it;
}
inline constexpr bool passes(Percent position, Percent level, Percent high) {
    return position * level > high * all_of_it;
}

// Residuation, rounded to a hand's settings: the highest y with y·x <= high, and the lowest y with y·x >= low
// (more than full where there is none). x, low >= 0.
inline Percent highest_under(Percent high, Percent x, Percent notch) {
    return high >= x ? all_of_it : setting_below(high * all_of_it / x, notch);
}
inline Percent lowest_over(Percent low, Percent x, Percent notch) {
    if (low == 0) return 0;
    return low > x ? all_of_it + 1 : setting_above((low * all_of_it + x - 1) / x, notch);
}

// Bounds with equal cues and equal channels put together, and without those that ask for nothing: a smaller
// task with the same answers.
struct Reduced {
    Bounds bounds;
    std::vector<std::size_t> cue, channel;  // of each row and column, the first that it stands for
    std::vector<std::size_t> row, column;   // of each cue and channel; `nowhere`: it asks for nothing
};
inline constexpr std::size_t nowhere = static_cast<std::size_t>(-1);

Reduced reduced(const Bounds& bounds);

}  // namespace tallow::desk::submasters
