// The rules of time and waves in LANGUAGE.md evaluated as they are written, in real numbers: the history of
// what was said to each parameter, and a value that looks back through it. Slow, and nothing like the engine.
#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "runtime/roll.hpp"
#include "tests/support/rational.hpp"
#include "tests/support/shapes.hpp"

namespace tallow::test {

// A roll and the exact numbers behind its rounded phases.
struct ExactRoll {
    runtime::Roll roll;
    std::vector<Shape> shapes;                   // by waveform
    std::vector<std::vector<Rational>> offsets;  // by wave, by row
};

class Model {
  public:
    explicit Model(const ExactRoll& exact);

    void advance(runtime::Tick t);
    bool go(runtime::Tick t);
    bool back(runtime::Tick t);

    // 0..1 of full, wave and virtual intensity included.
    long double shown(std::uint32_t parameter, runtime::Tick t) const;
    std::uint32_t current() const { return current_; }
    // A choice hung on less than the engine's rounding: from here on both may rightly differ.
    bool delicate() const { return delicate_; }

  private:
    using Tick = runtime::Tick;
    struct Goal {
        runtime::Level level;
        std::uint32_t wave;
    };
    struct Move {
        Tick go, start, duration;  // ticks
        runtime::Curve curve;
        bool falling;
        Goal goal;
        std::optional<long double> held;  // what was shown at the GO, where that was in a fade
    };
    struct Begun {
        Tick at;
        Rational phase;
    };

    void start_cue(std::uint32_t index, Tick g);
    void begin_cue(std::uint32_t index, Tick g);
    void begin_wave(std::uint32_t wave, Tick g);
    void state(std::uint32_t p, Goal goal, const runtime::Timing& timing, Tick g);
    std::vector<Goal> picture(std::uint32_t cue) const;

    Rational phase(std::uint32_t wave, Tick t) const;
    long double goal_value(std::uint32_t p, Goal goal, Tick t) const;
    long double middle(std::uint32_t p, Goal goal) const;
    long double value(std::uint32_t p, std::size_t moves, Tick t) const;
    bool complete(std::uint32_t p, std::size_t moves, Tick t) const;
    bool dark(std::uint32_t p, Tick g);

    const ExactRoll& exact_;
    const runtime::Roll& roll_;
    std::vector<std::vector<Move>> moves_;   // by parameter; the first is home
    std::vector<std::vector<Begun>> begun_;  // by wave
    std::vector<std::size_t> before_;        // moves of each parameter before the present GO
    std::vector<long double> shown_;         // and what it stood at then
    std::uint32_t current_ = runtime::none;
    std::optional<Tick> pending_;
    bool delicate_ = false;
};

}  // namespace tallow::test
