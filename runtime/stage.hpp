// Every parameter of the rig as it stands and as it moves: the part of the engine that knows levels and time,
// not cues.
#pragma once

#include <array>
#include <cstdint>
#include <vector>

#include "runtime/fade_clock.hpp"
#include "runtime/running_waves.hpp"

namespace tallow::runtime {

// The way that parameters stated together take: one timing from one GO. Its clocks are made when the first
// parameter needs them.
struct Passage {
    Tick go = 0;
    Timing timing;
    std::array<std::uint32_t, 2> clock{none, none};  // for `up` and for `down`
};

class Stage {
  public:
    explicit Stage(const Roll& roll);

    // Sets now() for tick t, settles fades that are complete by then. Ticks never go back.
    void evaluate(Tick t);

    // Sends parameter p to a level with a wave (or none) on its passage, from how it stands at the passage's
    // GO: evaluate(go) comes first. A parameter goes on one passage at one instant.
    void state(std::uint32_t p, Level level, std::uint32_t wave, Passage& passage);
    // Begins a wave at tick g.
    void start_wave(std::uint32_t wave, Tick g) { waves_.start(wave, g); }

    // Present levels by parameter, and one more that is always full.
    const Level* now() const { return now_.data(); }
    // Universes (by index) of which a slot may have moved since clear_touched().
    bool touched(std::size_t universe) const { return moving_[universe] || touched_[universe]; }
    bool any_touched() const { return !fading_.empty() || !waving_.empty() || any_touched_; }
    void clear_touched();

  private:
    // One end of a fade: the level beneath, the row of the wave on it (or none), between which values that
    // moves it, and the value that all this makes.
    struct Side {
        explicit Side(std::size_t n) : level(n), low(n), high(n), value(n), row(n, none) {}
        std::vector<Level> level, low, high, value;
        std::vector<std::uint32_t> row;
    };
    enum class Target : std::uint8_t { now, to, from };
    // Neighbours that fade with one lane's weight, or, where `lane` is no_lane, each with its own lane's.
    struct FadeRun {
        std::uint32_t first, count, lane;
    };
    // Neighbouring parameters on neighbouring rows of one wave. `leaves`: that wave would take them past 0 or
    // full.
    struct WaveRun {
        std::uint32_t row, first, count;
        Target target;
        bool leaves;
    };
    struct Ends {
        std::int32_t low, high;
    };

    Ends ends(std::uint32_t p, Level level, std::uint32_t row) const;
    std::int32_t twice_middle(std::uint32_t p, Level level, std::uint32_t row) const;
    bool still(std::uint32_t p, const Side& side) const;
    bool in_dark(std::uint32_t p) const;
    std::uint32_t lane_for(std::uint32_t p, bool falling, Passage& passage);
    void settle(std::uint32_t p);
    void touch(std::uint32_t p);

    void plan();
    void plan_fade(std::uint32_t p);
    void plan_wave(std::uint32_t p, std::uint32_t row, Target target);
    void join_short_runs();
    Side& side(Target target) { return target == Target::from ? from_ : to_; }
    void apply_wave(const WaveRun& run);
    void blend_run(const FadeRun& run);

    const Parameters& rig_;
    Tick ticks_per_ms_;
    FadeClocks clocks_;
    RunningWaves waves_;
    Side from_, to_;                   // from_ counts only while a parameter is in a fade
    std::vector<std::uint32_t> lane_;  // the fade that a parameter is in; no_lane: settled
    std::vector<Level> now_;
    std::vector<std::uint8_t> dark_;    // as planned: at level 0, and not on its way elsewhere
    std::vector<std::uint32_t> lands_;  // the universe whose slots show a parameter, or none

    bool stale_ = true;  // the plan below is older than the columns above
    std::vector<FadeRun> fading_;
    std::vector<WaveRun> waving_;
    std::array<std::size_t, 3> last_waving_{};  // while planning, by target: the run begun last
    std::vector<std::uint8_t> moving_, touched_;
    bool any_touched_ = false;
};

}  // namespace tallow::runtime
