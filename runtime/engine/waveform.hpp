// The shapes of waves, evaluated for many rows at one phase.
#pragma once

#include <cstdint>
#include <span>
#include <vector>

#include "runtime/engine/wide.hpp"
#include "runtime/roll/roll.hpp"

namespace tallow::runtime {

// A phase that keeps count of its turns: whole turns above, 2⁻⁶⁴ of a turn below.
using Turns = UnsignedWide;

// ½ + ½·sin(2π·phase) of 65536, within 1: a table of 1024 with interpolation.
Weight sine(Phase phase);

// The value of seeded noise at whole turn `turn`, 0..65535 (FORMATS.md gives the definition and test values).
Level noise(std::uint64_t seed, std::uint32_t member, std::uint64_t turn);

// A waveform made ready: segments carry their slopes, so that a row needs no division.
class PreparedWaveform {
  public:
    explicit PreparedWaveform(const Waveform& waveform);

    // out[i] = the shape at `turns` + offset[i] for member[i], as a weight from the low end to the high one.
    // Exact at segments' starts, and right-continuous there.
    void evaluate(Turns turns, const Phase* offset, const std::uint32_t* member, std::span<Weight> out) const;

  private:
    struct Line {
        Phase start;
        std::int64_t from, slope;  // from: a weight times 2¹⁶; slope: what one step of (phase − start) >>
                                   // shift adds, times 2²⁴
        int shift;
    };
    Weight at(Phase phase) const;
    Weight flicker(Turns turns, std::uint32_t member) const;

    Waveform::Shape shape_;
    std::uint64_t seed_;
    std::vector<Line> lines_;
};

}  // namespace tallow::runtime
