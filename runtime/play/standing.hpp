// How a show stands at a frame, for what shows it, keeps it, or follows it.
#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "runtime/roll/roll.hpp"

namespace tallow::runtime {

// Times are ticks of the show's own time, which stands still while the show is paused.
struct Standing {
    struct List {
        std::uint32_t current = none, next = none;  // cues, as indices into the roll
        Tick begun = 0;                             // the GO of the current one
        Tick complete_at = 0;                       // when that is complete
        std::optional<Tick> starts_at;              // when the next one starts by itself
        bool stopped = false;                       // let go of by `stop`, and not begun again
        bool operator==(const List&) const = default;
    };
    Tick now = 0;
    std::vector<List> lists;  // as in the roll
    std::vector<Level> submasters;
    Level master = full;
    bool blackout = false, panic = false, paused = false;
    std::optional<Tick> timecode;  // what it stands at, since its frame 0, while it runs
    std::uint64_t frames = 0, late = 0, dropped = 0;  // see PlayReport
    bool operator==(const Standing&) const = default;
};

}  // namespace tallow::runtime
