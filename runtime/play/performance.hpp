// A roll as it is played: its engine, the time that it keeps, and the script that it follows.
#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <vector>

#include "runtime/engine/engine.hpp"
#include "runtime/play/event.hpp"
#include "runtime/play/script.hpp"
#include "runtime/play/tape_use.hpp"

namespace tallow::runtime {

// Ticks here are those of the player's clock; what comes late counts as of the latest one. The show's own
// time stands still while it is paused. The roll must have passed validate() and must outlive the
// performance. Allocates nothing once it is made.
class Performance {
  public:
    Performance(const Roll& roll, Script script);

    // Does a command at tick t.
    void obey(const Command& command, Tick t);
    // Gives what the script says up to t, and has the engine at t.
    void advance(Tick t);

    const Roll& roll() const { return roll_; }
    const Engine& engine() const { return engine_; }
    // What happened since the advance to an earlier tick than the last one's; the first of it, if it is very
    // much.
    std::span<const Event> events() const { return events_; }
    // Nothing more begins or ends without a command, as of tick t, which is no later than the last one.
    bool at_rest(Tick t) const;
    bool overrun() const { return overrun_; }
    bool paused() const { return paused_; }
    TapeUse tape_use() const { return tape_use_; }
    void set_tape_use(TapeUse use) { tape_use_ = use; }  // moves nothing yet
    void stand(Standing& out) const { engine_.stand(out); }
    Standing standing() const { return engine_.standing(); }
    // A new performance goes on from where another one stood, at tick t. What its script says up to then is
    // over.
    void restore(const Standing& standing, bool paused, TapeUse tape, Tick t);
    // Shows at tick t what another performance shows, and goes over in so many milliseconds (see
    // Engine::dissolve); follows the same tape.
    void dissolve(const Performance& from, const std::vector<std::uint32_t>& place, Tick t, std::uint64_t ms);

  private:
    void prompt(Tick t);
    Answer answer(const Command& command, Tick t);
    Answer stop(const Command& command, Tick t);
    Answer hold(const Command& command, Tick t);
    Answer move(const Command& command, Tick clock);
    Answer take(const Command& command, Tick clock);
    Answer set_timecode(const Command& command, Tick clock);
    Answer pause(Tick clock);
    bool end_pause(Tick clock);
    bool goes_by_tape() const { return !paused_ && tape_use_ == TapeUse::followed; }
    void rejoin_tape(Tick clock, std::uint32_t but);
    Tick code_at(Tick clock) const { return tape_->code + (tape_->runs ? clock - tape_->at : 0); }
    void hold_tape(Tick t);
    void note(const Event& event);
    bool starts_next(std::uint32_t cue) const;
    Tick show_time(Tick t) const { return paused_ ? stands_at_ : t - behind_; }

    const Roll& roll_;
    Engine engine_;
    Script script_;
    std::size_t given_ = 0;  // commands of the script
    bool code_given_ = false;
    bool paused_ = false;
    Tick behind_ = 0;     // how far the show's time is behind the player's, modulo 2^64
    Tick stands_at_ = 0;  // the show's time, while it is paused
    // Timecode from outside, as it was told last; it runs on by the player's clock, and does so in a pause.
    struct Tape {
        Tick at, code;
        bool runs;  // false: it stands, and the show has not gone there yet
    };
    std::optional<Tape> tape_;
    TapeUse tape_use_ = TapeUse::followed;
    Tick now_ = 0;                  // the latest that was asked for
    std::optional<Tick> advanced_;  // the last advance's
    std::vector<Event> events_;
    bool told_ = false;  // of these
    bool overrun_ = false;
};

}  // namespace tallow::runtime
