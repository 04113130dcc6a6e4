// Cues in an operator's words.
#pragma once

#include <cstdint>
#include <string>

#include "runtime/engine/standing.hpp"
#include "runtime/roll/roll.hpp"

namespace tallow::runtime {

// Whether any cue of the show starts by itself, so that there is something to hold.
bool starts_by_itself(const Roll& roll);

std::uint64_t to_ms(Tick ticks, std::uint32_t refresh);

// What a cue (an index) waits for: `on "the bell"`, "at timecode 01:00:00:00", "3s after cue 4 is complete",
// "10s after the GO of cue 4", or "GO".
std::string waits_for(const Roll& roll, std::uint32_t list, std::uint32_t cue);
// The same of a list's next cue, whose time may be known: "by itself in 4.3s". In plain text.
std::string next_waits_for(const Roll& roll, std::uint32_t list, const Standing& show);

// How the present cue of a list goes: "fading, 2.1s of 5s", "complete", "stopped"; "" before the first.
std::string going(const Roll& roll, const Standing& show, std::uint32_t list);
// A bar of 10 signs for the same; "" where nothing fades.
std::string bar(const Standing::List& list, Tick now);

}  // namespace tallow::runtime
