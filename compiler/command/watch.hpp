// Does something again whenever one of the files that it reads changes.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "compiler/command/changes.hpp"
#include "compiler/show/load.hpp"
#include "runtime/play/clock.hpp"

namespace tallow::command {

inline constexpr int quiet_ms = 30;       // a round waits for so long without a change: saving takes steps
inline constexpr int longest_ms = 1'000;  // but no longer than this and one wait, whatever goes on changing

// One turn: `changed` are the files that brought it about (none at the first), `read` must read every file.
using Round = std::function<void(const std::vector<std::string>& changed, const show::ReadFile& read)>;

// Runs a round at once and one after each change, until the user asks to end. Files are followed from before
// they are read until a round reads them no more; a file that is missing is waited for. Fails when the
// surroundings cannot watch.
runtime::Status watch(Changes& changes, runtime::Clock& clock, const show::ReadFile& read, const Round& round,
                      int quiet = quiet_ms);

}  // namespace tallow::command
