// Which cue of which list starts when: by itself after another, or by timecode.
#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "runtime/engine/standing.hpp"
#include "runtime/roll/roll.hpp"

namespace tallow::runtime {

class Schedule {
  public:
    explicit Schedule(const Roll& roll);

    using List = Standing::List;
    const List& list(std::uint32_t index) const { return lists_[index]; }
    // Puts a list where another schedule has it.
    void set_list(std::uint32_t index, const List& list) { lists_[index] = list; }

    // A cue that starts by itself.
    struct Due {
        Tick at = 0;
        std::uint32_t list = 0, cue = 0;
        bool by_timecode = false;
    };
    // The first of all: at one instant lists come in their order; in one list, timecode before what is
    // pending, which its GO cancels.
    std::optional<Due> due() const;

    // A cue becomes the present one of its list, its clock at g; nothing is pending there any more.
    void begin(std::uint32_t list, std::uint32_t cue, Tick g);
    // What comes after the present cue starts by itself if that cue says so: `passed` ticks earlier than it
    // would if the cue began at tick g.
    void arm(std::uint32_t list, Tick g, Tick passed = 0);
    void hold(std::uint32_t list) { lists_[list].pending.reset(); }
    // The list is let go of at g, and has gone at `complete_at`. The present cue keeps its place.
    void stop(std::uint32_t list, Tick g, Tick complete_at);

    // From tick t on the timecode runs, from `code` (ticks since its frame 0) on. False where that is no
    // jump: it is the code that runs already, or two frames from it at the most with no cue between.
    bool run_timecode(Tick t, Tick code);
    // What the running timecode stands at.
    std::optional<Tick> timecode(Tick t) const;
    // Where a list belongs when timecode has jumped to `code`: in this cue, so many ticks after its GO.
    // Nothing where it may stay as it is: no cue of it lies before the code, one lies at it, or a GO by hand
    // leads from there to the present cue.
    struct Place {
        std::uint32_t cue;
        Tick passed;
    };
    std::optional<Place> place(std::uint32_t list, Tick code) const;
    void stop_timecode() { code_from_.reset(); }
    // The cue that is due by timecode first is over.
    void pass_timecode() { ++next_code_; }

    // Nothing starts by itself any more, and every cue is complete at tick t.
    bool at_rest(Tick t) const;

  private:
    struct Code {
        Tick at;  // since frame 0
        std::uint32_t list, cue;
    };
    std::optional<Due> due_by_timecode() const;
    const Code* last_code(std::uint32_t list, Tick code) const;
    Tick wait_after(std::uint32_t cue) const;

    const Roll& roll_;
    std::vector<List> lists_;
    std::vector<Code> codes_;        // of all cues with timecode, in order
    std::size_t next_code_ = 0;      // of these
    std::optional<Tick> code_from_;  // when the running timecode stood at code_base_
    Tick code_base_ = 0;
};

}  // namespace tallow::runtime
