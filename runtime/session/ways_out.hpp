// From settings to outputs.
#pragma once

#include <memory>
#include <span>
#include <string>
#include <vector>

#include "runtime/output/supervised.hpp"
#include "runtime/session/settings.hpp"

namespace tallow::runtime {

// An output that can be opened, and how it is to be looked after.
struct WayOut {
    NamedOutput output;
    Supervision how;
};

// All that the settings ask for. Fails on what they cannot mean; opens nothing yet.
Result<std::vector<WayOut>> ways_out(const PlaySettings& settings, std::span<const Universe> universes,
                                     std::uint32_t refresh);

// Each opened here and now: for playing that waits for them.
Result<std::vector<std::unique_ptr<Output>>> open_all(const std::vector<WayOut>& ways);

// An output that has a thread of its own. `looked_after` is for its health; it lives as long as the output.
struct OwnThread {
    std::unique_ptr<Output> output;
    SupervisedOutput* looked_after = nullptr;
};
Result<OwnThread> on_own_thread(const WayOut& way, std::span<const Universe> universes);

}  // namespace tallow::runtime
