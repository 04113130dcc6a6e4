// Standing by: following the show that another machine plays, until that machine disappears.
#pragma once

#include <functional>
#include <string_view>

#include "runtime/play/clock.hpp"
#include "runtime/play/player.hpp"
#include "runtime/session/played.hpp"
#include "runtime/session/settings.hpp"

namespace tallow::runtime {

// So long after the last state the machine counts as gone. A receiver of E1.31 waits 2.5 s (6.7.1) before it
// turns to a source of lower priority.
inline constexpr std::uint64_t gone_after_ns = 1000000000;

// Waits. True when this machine is to take over: the source then stands where the other one would stand now,
// and `options` say from which frame on. False when it is asked to quit. A failure of the surroundings
// besides.
Result<bool> stand_by(const PlaySettings& settings, Played& played, Clock& clock,
                      const std::function<bool()>& asked_to_quit,
                      const std::function<void(std::string_view)>& say, PlayOptions& options);

}  // namespace tallow::runtime
