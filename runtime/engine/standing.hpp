// How a show stands at a tick: all that it takes to show it to someone, to write it down, and to play on from
// there in another engine.
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <vector>

#include "runtime/engine/running_waves.hpp"
#include "runtime/roll/roll.hpp"

namespace tallow::runtime {

// Lists, cues, submasters and sources are indices into the roll.
struct Standing {
    // A cue and its GO.
    struct Given {
        std::uint32_t cue = none;
        Tick at = 0;
        bool operator==(const Given&) const = default;
    };
    struct List {
        std::uint32_t current = none, next = none;  // cues
        // What was present before the current one, the latest first: its fades may go on. Since the list was
        // at home, or, where all are taken, since longer ago.
        std::array<Given, 8> earlier{};
        std::optional<Tick> stopped;  // when stop() let go of it, if it has not begun again
        Tick begun = 0;               // the GO of the current one
        Tick complete_at = 0;         // when that is complete
        std::optional<Tick> pending;  // when the next one starts by itself
        bool operator==(const List&) const = default;
        std::uint32_t before() const { return earlier[0].cue; }
    };
    Tick now = 0;
    std::vector<List> lists;          // all
    std::vector<Level> submasters;    // all
    std::vector<SourceTime> sources;  // all: waves, then chases
    // Of each claim of a list on what several state (rows.hpp): the order of what was said last.
    std::vector<std::uint64_t> claims;
    Level master = full;
    bool blackout = false, panic = false;
    std::optional<Tick> timecode;  // what it stands at, since its frame 0, while it runs
    bool operator==(const Standing&) const = default;
};

// Whether nothing but the time has changed: each with the same cues, masters and timecode running on.
bool same_but_for_time(const Standing& a, const Standing& b);

}  // namespace tallow::runtime
