// Which cue of which list starts when: by itself after another, or by timecode.
#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "runtime/roll/roll.hpp"

namespace tallow::runtime {

class Schedule {
  public:
    explicit Schedule(const Roll& roll);

    struct List {
        std::uint32_t current = none, next = none;  // cues
        std::optional<Tick> pending;                // when the next one starts by itself
        Tick complete_at = 0;                       // the current one; 0 before the first
    };
    const List& list(std::uint32_t index) const { return lists_[index]; }

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
    // What comes after the present cue, which began at g, starts by itself if that cue says so.
    void arm(std::uint32_t list, Tick g);
    void hold(std::uint32_t list) { lists_[list].pending.reset(); }

    // From tick t on the timecode runs, from `code` (ticks since its frame 0) on.
    void run_timecode(Tick t, Tick code);
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

    const Roll& roll_;
    std::vector<List> lists_;
    std::vector<Code> codes_;        // of all cues with timecode, in order
    std::size_t next_code_ = 0;      // of these
    std::optional<Tick> code_from_;  // when the running timecode stood at code_base_
    Tick code_base_ = 0;
};

}  // namespace tallow::runtime
