// The engine: a roll and a clock in, slot levels out. The meaning of a show (LANGUAGE.md) in integers; one
// engine serves the player, the renderer and every check that needs time.
#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <span>

#include "runtime/engine/standing.hpp"
#include "runtime/roll/roll.hpp"

namespace tallow::runtime {

// Sized when it is made; nothing after that allocates, takes a lock or does I/O. The roll must have passed
// validate() and must outlive the engine. One thread at a time. Lists, submasters and universes are named by
// their index in the roll; the main list is 0. No call's tick lies before an earlier call's, and what was due
// before it starts first.
class Engine {
  public:
    explicit Engine(const Roll& roll);
    ~Engine();
    Engine(const Engine&) = delete;
    Engine& operator=(const Engine&) = delete;

    // The levels at tick t: starts every cue that is due by then, each at its own exact time, and computes
    // slots() at t.
    void advance(Tick t);

    // Starts the next cue of a list with its clock at tick t; after stop(), as a jump. False past the last
    // cue.
    bool go(std::uint32_t list, Tick t);
    bool go(Tick t) { return go(0, t); }
    // A jump: plays a cue (an index) of a list as a whole picture in the times of its header, from tick t on.
    // What it holds of waves and chases goes on if it runs; else it stands where straight play would have it
    // if only fixed times lie between, and begins if not. What follows the cue follows it.
    void go_to(std::uint32_t list, std::uint32_t cue, Tick t);
    // A jump to the cue before the present one, after stop() to the present one; what follows it waits for a
    // GO. False at the first cue.
    bool back(std::uint32_t list, Tick t);
    bool back(Tick t) { return back(0, t); }
    // What a list stands for fades to nothing in so many milliseconds. The next GO plays its next cue.
    void stop(std::uint32_t list, std::uint64_t ms, Tick t);
    // Holds a list as it is: cancels what was to start by itself. Fades and waves go on.
    void hold(std::uint32_t list, Tick t);
    void hold(Tick t) { hold(0, t); }

    // A submaster or the grand master stands at a position from tick t on; at first 0, and full.
    void set_submaster(std::uint32_t index, Level position, Tick t);
    void set_master(Level position, Tick t);
    // While it is on, the grand master counts as 0.
    void set_blackout(bool on, Tick t);
    bool blackout() const;
    // The roll's panic look, over everything but the floors, from tick t on until it is taken away; neither
    // takes time. At first it is away. A roll without one shows nothing by it.
    void set_panic(bool on, Tick t);
    bool panic() const;

    // From tick t on timecode comes in and runs on from `code`, in ticks since its frame 0 (timecode_tick).
    // A cue with timecode starts when it is reached: as by GO where it is its list's next one, else as a
    // jump; where it is the present one, only what follows it by itself counts anew from there. Where the
    // code jumps, each list jumps to the cue that it would be in, had the code run through: the last one with
    // timecode before the code, or what follows that by itself; but where a GO by hand leads from there to
    // the present cue, or none lies before, it stays. So does the list `but`.
    void timecode(Tick t, Tick code, std::uint32_t but = none);
    void timecode_stop(Tick t);

    // The slots of a universe at the last advance.
    std::span<const std::uint8_t> slots(std::size_t universe) const;
    // Whether they differ from the advance before.
    bool changed(std::size_t universe) const;

    // The cues (by index) that have begun since the advance before the last one, in order; the first of them,
    // if they are more than the roll has cues.
    std::span<const std::uint32_t> begun() const;

    std::optional<std::uint32_t> current(std::uint32_t list = 0) const;  // the cue that was started last
    std::optional<std::uint32_t> next(std::uint32_t list = 0) const;     // what the next GO starts
    std::optional<Tick> next_start(std::uint32_t list = 0) const;        // when that starts by itself
    Tick complete_at(std::uint32_t list = 0) const;  // of the present cue; 0 before the first
    // Whether nothing starts by itself any more and all lists' cues are complete at tick t.
    bool at_rest(Tick t) const;
    // More than limits::cues_at_once cues were due at one instant; the rest start at the next advance.
    bool overrun() const;

    // How it stands at the latest tick.
    Standing standing() const;
    // The same into one that standing() made; allocates nothing.
    void stand(Standing& out) const;
    // A new engine stands as another one of this roll did: each list's last GOs are played again at their
    // times. Allocates. advance(s.now) comes next.
    void restore(const Standing& s);

    // From tick t on, which comes after both engines' last advance, levels go over from another engine's in
    // so many ticks: `place` says by parameter which one it is there, or none.
    void dissolve(const Engine& from, const std::vector<std::uint32_t>& place, Tick t, Tick ticks);

  private:
    struct Parts;
    std::unique_ptr<Parts> p_;
};

}  // namespace tallow::runtime
