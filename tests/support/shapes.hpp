// Waveforms twice over: as the segments that a roll holds, and as the formulas of LANGUAGE.md in real
// numbers.
#pragma once

#include <cstdint>
#include <vector>

#include "runtime/roll/roll.hpp"
#include "tests/support/rational.hpp"

namespace tallow::test {

struct Shape {
    enum class Form { sine, triangle, rise, fall, square, points, flicker };
    struct Point {
        Rational at;
        runtime::Level value;
    };
    Form form = Form::sine;
    Rational duty{1, 2};        // of a square
    std::vector<Point> points;  // the first at 0; the way goes back to its value at the turn's end
    std::uint64_t seed = 0;     // of a flicker

    runtime::Waveform waveform() const;
    // 0..1 at a phase in turns, for a member of the selection.
    long double at(Rational phase, std::uint32_t member) const;
};

}  // namespace tallow::test
