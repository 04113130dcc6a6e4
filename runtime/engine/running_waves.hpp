// The waves of a roll as they run: when each began, and what its rows stand at.
#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "runtime/engine/waveform.hpp"

namespace tallow::runtime {

// When a wave or chase began, if it has run, and the phase that a wave began with.
struct SourceTime {
    std::optional<Tick> began;
    Turns carried = 0;
    bool operator==(const SourceTime&) const = default;
};

// The phase that a wave goes through in so many ticks.
Turns turns_in(const Wave& wave, Tick elapsed, std::uint32_t refresh);

// Rows are numbered through all waves of the roll. Only rows that are asked for are evaluated.
class RunningWaves {
  public:
    explicit RunningWaves(const Roll& roll);

    std::uint32_t rows() const { return static_cast<std::uint32_t>(wave_of_.size()); }
    // The row of a parameter in a wave that moves it.
    std::uint32_t row(std::uint32_t wave, std::uint32_t parameter) const;
    std::int32_t low(std::uint32_t row) const;
    std::int32_t high(std::uint32_t row) const;

    // Begins a wave at tick g, at the phase of the wave that it continues if that one has run, else at 0.
    void start(std::uint32_t wave, Tick g);
    bool has_run(std::uint32_t wave) const { return waves_[wave].time.began.has_value(); }
    // Whether a row of it is wanted.
    bool wanted(std::uint32_t wave) const { return waves_[wave].wanted_from != none; }
    const SourceTime& time(std::uint32_t wave) const { return waves_[wave].time; }
    // Puts it where another engine, or straight play, has it. The beginning may lie before tick 0, modulo
    // 2^64.
    void set_time(std::uint32_t wave, const SourceTime& time) { waves_[wave].time = time; }

    // Which rows evaluate() is to compute: none, then those that are wanted.
    void want_none();
    void want(std::uint32_t row);
    // Sets the weight of every wanted row for tick t. A wave that has not begun stands at phase 0.
    void evaluate(Tick t);
    // By row: how far from its low end to its high one it stands.
    const Weight* weights() const { return weight_.data(); }

  private:
    struct Running {
        SourceTime time;
        std::uint32_t first_row = 0;                      // where its rows begin among all
        std::uint32_t wanted_from = none, wanted_to = 0;  // rows of its own, half-open
        bool shares = false;                              // its rows are evaluated by steps
    };
    void find_steps(std::uint32_t wave);
    Turns turns(std::uint32_t wave, Tick t) const;
    void evaluate_steps(std::uint32_t wave, Turns turns, std::uint32_t from, std::uint32_t to);

    const Roll& roll_;
    std::vector<PreparedWaveform> forms_;
    std::vector<Running> waves_;
    std::vector<std::uint32_t> wave_of_;  // by row
    std::vector<Weight> weight_;          // by row
    std::vector<std::uint32_t> live_;     // waves of which a row is wanted

    // Neighbouring rows that stand at one phase, such as the emitters of one member, share a step and are
    // evaluated once.
    std::vector<std::uint32_t> step_of_;  // by row
    std::vector<Phase> step_offset_;
    std::vector<std::uint32_t> step_member_;
    std::vector<Weight> step_weight_;
};

}  // namespace tallow::runtime
