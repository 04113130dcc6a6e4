// What an engine is made of: it starts what is due (schedule.hpp), lets it change the levels (mix.hpp), and
// writes the slots (slots.hpp).
#pragma once

#include <vector>

#include "runtime/engine/engine.hpp"
#include "runtime/engine/mix.hpp"
#include "runtime/engine/picture.hpp"
#include "runtime/engine/schedule.hpp"
#include "runtime/engine/slots.hpp"
#include "runtime/engine/straight.hpp"

namespace tallow::runtime {

struct Engine::Parts {
    explicit Parts(const Roll& r);

    // engine_go.cpp: what begins, and what is let go of.
    void start_cue(std::uint32_t list, std::uint32_t cue, Tick g);
    // Plays a cue as the whole picture that its list has then, in the times of its header; what the list
    // stood for beyond that is released. Waves and chases of the picture that do not run are where straight
    // play would have them, `passed` ticks after the cue's GO, or begin.
    void jump_to(std::uint32_t list, std::uint32_t cue, Tick g, Tick passed = 0);
    // What the list stands for, as of its present cue, goes out in so many ticks' time.
    void stop(std::uint32_t list, std::uint64_t ms, Tick g);
    // A GO: the next cue, by itself where the list stands as the cue before it left it.
    void go_on(std::uint32_t list, std::uint32_t cue, Tick g);
    void start_due(Tick t);
    void start_before(Tick t);
    void start_by_code(std::uint32_t list, std::uint32_t cue, Tick g);
    void locate(Tick t, Tick code, std::uint32_t but);

    // Puts waves and chases that `after`, the picture of a cue, holds where straight play would have them.
    void place_sources(std::uint32_t cue, Tick g, Tick passed);

    // engine_stand.cpp
    void settle_picture(std::uint32_t list, std::uint32_t cue, Tick g);
    void take_times(const Standing& s, Tick t);
    // What is to be done again: to put a list where a cue left it, in no time; a GO; or a stop.
    struct Again {
        enum class What : std::uint8_t { settle, go, stop };
        What what;
        Tick at;
        std::uint32_t list, cue;
    };
    static void add_list(std::uint32_t list, const Standing::List& to, std::vector<Again>& all);
    static std::vector<Again> in_order(const Standing& s);
    void do_again(const Again& again, const Standing& s);

    void write_slots();

    const Roll& roll;
    Schedule schedule;
    Mix mix;
    Slots slots;
    const StraightPlay straight;
    Tracked before, after;               // pictures of a list
    std::vector<std::uint8_t> in_after;  // by source: whether the picture holds it
    std::vector<std::uint8_t> changed;
    bool any_changed = false;
    bool first = true;  // no advance yet

    std::vector<std::uint32_t> begun;
    bool told = false;  // that these have begun
    Tick last = 0;      // the latest tick that was asked for
    bool overrun = false;

  private:
    void begin(std::uint32_t list, std::uint32_t cue, Tick g);
    void take_before(std::uint32_t list);
};

}  // namespace tallow::runtime
