// Every row (rows.hpp) as it stands and as it moves: the part of the engine that knows levels and time, not
// cues.
#pragma once

#include <array>
#include <cstdint>
#include <vector>

#include "runtime/engine/fade_clock.hpp"
#include "runtime/engine/rows.hpp"
#include "runtime/engine/sources.hpp"

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
    Stage(const Roll& roll, const Rows& rows);

    // Sets now() for tick t, settles fades that are complete by then. Ticks never go back.
    void evaluate(Tick t);

    // Sends a row to a level with a wave or chase (or none) on its passage, from how it stands at the
    // passage's GO: evaluate(go) comes first. A row goes on one passage at one instant. `at_once`: no time is
    // taken.
    void state(std::uint32_t row, Level level, std::uint32_t source, Passage& passage, bool at_once);
    // Puts a row to a level with a wave or chase (or none) at tick g, from no matter where.
    void put(std::uint32_t row, Level level, std::uint32_t source, Tick g);
    // Begins a wave or chase at tick g.
    void start(std::uint32_t source, Tick g) { sources_.start(source, g); }
    // Whether a wave or chase moved anything at the last evaluate().
    bool runs(std::uint32_t source) const { return sources_.runs(source); }
    SourceTime time_of(std::uint32_t source) const { return sources_.time(source); }
    void set_time(std::uint32_t source, const SourceTime& time) {
        sources_.set_time(source, time);
        touch_all();
    }

    // Present levels by row.
    const Level* now() const { return now_.data(); }
    bool in_fade(std::uint32_t row) const { return lane_[row] != FadeClocks::no_lane; }
    Level goal(std::uint32_t row) const { return to_.level[row]; }
    // Whether that is what it stands at, or where its fade ends.
    bool goes_to(std::uint32_t row, Level level, std::uint32_t source) const {
        return to_.level[row] == level && to_.source[row] == sources_.row(source, parameter_[row]);
    }
    // By row: whether an intensity stood at level 0 and was not on its way elsewhere at the last evaluate().
    const std::uint8_t* dark() const { return dark_.data(); }
    void touch_all();
    // Universes (by index) of which a slot may have moved since clear_touched().
    bool touched(std::size_t universe) const { return moving_[universe] || touched_[universe]; }
    bool any_touched() const {
        return !fading_.empty() || !waving_.empty() || !chasing_.empty() || any_touched_;
    }
    void clear_touched();

  private:
    // One end of a fade: the level beneath, the row of the wave or chase on it (or none), between which
    // values a wave moves it, and the value that all this makes.
    struct Side {
        explicit Side(std::size_t n) : level(n), low(n), high(n), value(n), source(n, none) {}
        std::vector<Level> level, low, high, value;
        std::vector<std::uint32_t> source;
    };
    enum class Target : std::uint8_t { now, to, from };
    // Neighbours that fade with one lane's weight, or, where `lane` is no_lane, each with its own lane's.
    struct FadeRun {
        std::uint32_t first, count, lane;
    };
    // Neighbours on neighbouring rows of one wave or chase. `leaves`: a wave would take them past 0 or full.
    struct SourceRun {
        std::uint32_t source, first, count;
        Target target;
        bool leaves;
    };
    struct Ends {
        std::int32_t low, high;
    };

    Ends ends(std::uint32_t row, Level level, std::uint32_t source) const;
    std::int32_t twice_middle(std::uint32_t row, Level level, std::uint32_t source) const;
    bool still(std::uint32_t row, const Side& side) const;
    bool at_zero(std::uint32_t row, const Side& side) const;
    std::uint32_t lane_for(std::uint32_t row, bool falling, Passage& passage);
    void settle(std::uint32_t row);
    void touch(std::uint32_t row);

    void plan();
    void plan_fade(std::uint32_t row);
    void plan_source(std::uint32_t row, std::uint32_t source, Target target);
    void plan_wave(std::uint32_t row, std::uint32_t source, Target target);
    void plan_chase(std::uint32_t row, std::uint32_t source, Target target);
    void add_run(std::vector<SourceRun>& runs, std::array<std::size_t, 3>& last, const SourceRun& run);
    void join_short_runs();
    Side& side(Target target) { return target == Target::from ? from_ : to_; }
    void apply_wave(const SourceRun& run);
    void apply_chase(const SourceRun& run);
    void blend_run(const FadeRun& run);

    std::size_t rows_;
    Tick ticks_per_ms_;
    const std::vector<std::uint32_t>& parameter_;  // by row
    std::vector<Kind> kind_;
    std::vector<std::uint32_t> lands_;  // the universe whose slots show a row, or none
    FadeClocks clocks_;
    Sources sources_;
    Side from_, to_;                   // from_ counts only while a row is in a fade
    std::vector<std::uint32_t> lane_;  // the fade that a row is in; no_lane: settled
    std::vector<Level> now_;
    std::vector<std::uint8_t> dark_;

    bool stale_ = true;  // the plan below is older than the columns above
    std::vector<FadeRun> fading_;
    std::vector<SourceRun> waving_, chasing_;
    std::array<std::size_t, 3> last_waving_{}, last_chasing_{};  // while planning, by target: the last run
    std::vector<std::uint8_t> moving_, touched_;
    bool any_touched_ = false;
};

}  // namespace tallow::runtime
