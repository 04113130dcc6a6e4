// The engine: a roll and a clock in, slot levels out. The meaning of a show (LANGUAGE.md) in integers; one
// engine serves the player, the renderer and every check that needs time.
#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <span>

#include "runtime/roll.hpp"

namespace tallow::runtime {

// Sized when it is made; advance, go, back and stop allocate nothing, take no lock and do no I/O.
// The roll must have passed validate() and must outlive the engine. One thread at a time.
class Engine {
  public:
    explicit Engine(const Roll& roll);
    ~Engine();
    Engine(const Engine&) = delete;
    Engine& operator=(const Engine&) = delete;

    // The levels at tick t, which never lies before an earlier call's: starts every cue that is due by then,
    // each at its own exact time, and computes slots() at t.
    void advance(Tick t);

    // Starts the next cue with its clock at tick t (not before the last advance). False past the last cue.
    bool go(Tick t);
    // Plays the cue before the present one, as a whole picture in its own times. False at the first cue.
    bool back(Tick t);
    // Holds the picture as it is: cancels what was to start by itself. Fades and waves go on.
    void hold();

    // The slots of universe `index` (into Roll::universes) at the last advance.
    std::span<const std::uint8_t> slots(std::size_t index) const;
    // Whether they differ from the advance before.
    bool changed(std::size_t index) const;

    std::optional<std::uint32_t> current() const;  // index of the cue that was started last
    std::optional<std::uint32_t> next() const;     // index of the cue that the next GO starts
    std::optional<Tick> next_start() const;        // when the next one starts by itself
    Tick complete_at() const;                      // when the present cue is complete; 0 before the first
    // More than limits::cues_at_once cues were due at one instant; the rest start at the next advance.
    bool overrun() const;

  private:
    struct Columns;
    std::unique_ptr<Columns> c_;
};

}  // namespace tallow::runtime
