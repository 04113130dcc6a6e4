// The rules of time, waves, chases and several lists in LANGUAGE.md evaluated as they are written, in real
// numbers: the history of what was said to each parameter, and a value that looks back through it. Slow, and
// nothing like the engine.
#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "runtime/roll/roll.hpp"
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
    bool go(std::uint32_t list, runtime::Tick t);
    bool back(std::uint32_t list, runtime::Tick t);
    void go_to(std::uint32_t list, std::uint32_t cue, runtime::Tick t);
    void stop(std::uint32_t list, std::uint64_t ms, runtime::Tick t);
    void set_blackout(bool on, runtime::Tick t);
    void set_submaster(std::uint32_t index, runtime::Level position, runtime::Tick t);
    void set_master(runtime::Level position, runtime::Tick t);
    void set_panic(bool on, runtime::Tick t);
    void timecode(runtime::Tick t, runtime::Tick code);
    void timecode_stop(runtime::Tick t);

    // 0..1 of full, wave and virtual intensity included.
    long double shown(std::uint32_t parameter, runtime::Tick t) const;
    std::uint32_t current(std::uint32_t list) const { return lists_[list].current; }
    // A choice hung on less than the engine's rounding: from here on both may rightly differ.
    bool delicate() const { return delicate_; }

  private:
    long double through_response(std::uint32_t parameter, long double v) const;
    using Tick = runtime::Tick;
    struct Goal {
        runtime::Level level;
        std::uint32_t source;  // a wave, or beyond the waves a chase
    };
    struct Move {
        Tick start, duration;  // ticks
        runtime::Curve curve;
        bool falling;
        Goal goal;
        std::optional<long double> held;  // what was shown at the GO, where that was in a fade
    };
    struct Begun {
        Tick at;
        Rational phase;  // there
        Tick age = 0;    // of a chase, there
    };
    // What was said to one parameter: by one list, if it is an intensity, else by all.
    struct Line {
        std::uint32_t parameter;
        std::vector<Move> moves;
        bool stands = false;  // a list stands for this intensity
        // Before the present GO: how many moves, whether a list stood for it, and what it stood at.
        std::size_t moves_before = 1;
        bool stood_before = false;
        long double before = 0;
    };
    struct Statement {
        Goal goal;
        std::uint64_t order;
    };
    struct List {
        std::uint32_t current = runtime::none;
        bool stopped = false;
        std::optional<Tick> pending;
        std::vector<std::optional<Statement>> said;  // by parameter: what it stands for
    };
    struct Code {
        Tick at, base;
        std::vector<bool> passed;  // by cue
    };
    struct Event {
        Tick at;
        std::uint32_t list, cue;
        bool by_code;
    };

    std::optional<Event> next_event() const;
    void start(const Event& event);
    void start_cue(std::uint32_t list, std::uint32_t cue, Tick g);
    void jump_to(std::uint32_t list, std::uint32_t cue, Tick g, Tick passed);
    bool runs(std::uint32_t source, Tick g) const;
    void place(std::uint32_t list, std::uint32_t source, std::uint32_t cue, Tick g, Tick passed);
    std::optional<Tick> distance(std::uint32_t from, std::uint32_t to) const;
    std::uint32_t beginner(std::uint32_t list, std::uint32_t source, std::uint32_t cue) const;
    Rational taken_over(std::uint32_t list, std::uint32_t wave, std::uint32_t cue) const;
    Tick wait_after(std::uint32_t cue) const;
    void locate(std::uint32_t list, Tick t, Tick code);
    bool is_correction(Tick t, Tick code) const;
    void begin_cue(std::uint32_t list, std::uint32_t cue, Tick g);
    void begin_at(Tick g);
    void arm(std::uint32_t list, Tick g, Tick passed = 0);
    void begin(std::uint32_t source, Tick g);
    void say(std::uint32_t list, std::uint32_t p, Goal goal, const runtime::Timing& timing, Tick g);
    void release(std::uint32_t list, std::uint32_t p, const runtime::Timing& timing, Tick g);
    void enter(std::uint32_t list, std::uint32_t p, const runtime::Timing& timing, Tick g);
    void move(Line& line, Goal goal, const runtime::Timing& timing, Tick g);
    std::vector<std::optional<Goal>> picture(std::uint32_t list, std::uint32_t cue) const;

    bool is_chase(std::uint32_t source) const {
        return source != runtime::none && source >= roll_.waves.size();
    }
    const runtime::Chase& chase(std::uint32_t source) const {
        return roll_.chases[source - roll_.waves.size()];
    }
    std::vector<long double> steps_of(std::uint32_t p, std::uint32_t source) const;
    Line& line(std::uint32_t list, std::uint32_t p);
    const Line& line(std::uint32_t list, std::uint32_t p) const;
    const Begun* begun(std::uint32_t source, Tick t) const;
    Rational phase(std::uint32_t wave, Tick t) const;
    long double chase_value(std::uint32_t p, std::uint32_t source, Tick t) const;
    long double goal_value(std::uint32_t p, Goal goal, Tick t) const;
    long double middle(std::uint32_t p, Goal goal) const;
    long double value(const Line& line, std::size_t moves, Tick t) const;
    long double value(std::uint32_t p, Tick t) const;
    long double with_submasters(std::uint32_t p, long double beneath, Tick t) const;
    bool complete(const Line& line, std::size_t moves, Tick t) const;
    bool counts(const Line& line, Tick t) const {
        return line.stands || !complete(line, line.moves.size(), t);
    }
    bool out(std::uint32_t p, Goal goal) const;
    bool dark_line(const Line& line, Tick g);
    bool dark_intensity(std::uint32_t p, Tick g);
    bool dark(std::uint32_t p, Tick g);

    const ExactRoll& exact_;
    const runtime::Roll& roll_;
    std::vector<std::vector<Line>> lines_;   // by parameter: one for each list of an intensity, else one
    std::vector<std::vector<Begun>> begun_;  // by wave, then by chase
    std::vector<List> lists_;
    std::vector<runtime::Level> positions_;  // of submasters
    runtime::Level master_ = 65535;
    bool blackout_ = false;
    bool panic_ = false;
    std::optional<Code> code_;
    std::uint64_t order_ = 0;
    bool delicate_ = false;
};

}  // namespace tallow::test
