// Where and when a session begins.
#pragma once

#include <string>

#include "runtime/file_claim.hpp"
#include "runtime/play/player.hpp"
#include "runtime/session/played.hpp"
#include "runtime/session/settings.hpp"

namespace tallow::runtime {

struct Start {
    PlayOptions options;
    std::string said;  // for people; "" for nothing
    std::string cid;   // of the source whose show is resumed; "" without
};

// Reads the times in the settings, and with `resume` the state, which the source takes up.
Result<Start> find_start(const PlaySettings& settings, Played& played, Clock& clock);

// Whether the state is kept in a file, and in which.
bool keeps_state(const PlaySettings& settings, const Played& played);
std::string state_path(const PlaySettings& settings, const Played& played);

// Makes the state's file this player's. Fails where another one has it, which plays the same then.
Status claim_state(const PlaySettings& settings, const Played& played, FileClaim& claim);

// Where the show begins anew: moves the state of one that broke off out of the way, so that it can be resumed
// all the same, and says so. "" where there is none.
std::string set_state_aside(const PlaySettings& settings, const Played& played);

// Nanoseconds from now until a time of day comes, HH:MM:SS in local time: today, or where that is over,
// tomorrow.
Result<std::uint64_t> until_time_of_day(std::string_view text);

}  // namespace tallow::runtime
