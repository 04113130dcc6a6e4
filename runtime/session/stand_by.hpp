// Standing by: following the show that another machine plays, until that machine disappears.
#pragma once

#include <atomic>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "runtime/control/face.hpp"
#include "runtime/play/clock.hpp"
#include "runtime/play/player.hpp"
#include "runtime/session/played.hpp"
#include "runtime/session/settings.hpp"

namespace tallow::runtime {

// Who speaks to a player that stands by.
struct StandByWays {
    Face& face;
    // Of other machines, which speak to both players: what they say is passed over.
    const std::vector<std::unique_ptr<Trigger>>& triggers;
    std::atomic<bool>& quit;  // asked for by a signal, or by the face
};

// Waits. When this machine is to take over, the source stands where the other one would stand now, `options`
// say from which frame on, and when, and a line comes back that says so to people. Nothing when it is asked
// to quit; a failure of the surroundings besides.
Result<std::optional<std::string>> stand_by(const PlaySettings& settings, Played& played, Clock& clock,
                                            const StandByWays& ways, PlayOptions& options);

}  // namespace tallow::runtime
