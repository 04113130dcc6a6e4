// From a roll to frames: the engine on a clock that counts frames.
#pragma once

#include <cstdint>
#include <functional>
#include <optional>
#include <span>
#include <vector>

#include "runtime/roll.hpp"
#include "runtime/status.hpp"

namespace tallow::command {

struct RenderPlan {
    std::vector<std::uint64_t> go;  // milliseconds from the file's start, growing; ignored when `by_hold`
    bool by_hold = true;            // each manual cue starts `hold` after the one before it is complete
    std::uint64_t hold = 3000;      // milliseconds
    std::optional<std::uint64_t> until;  // milliseconds; none: `hold` after the last cue is complete
};

struct FrameSink {
    std::function<void(std::uint32_t cue)> mark;  // the next frame begins this cue (thousandths)
    std::function<runtime::Status(std::span<const std::uint8_t> slots)>
        frame;  // all universes, one after the other
};

// Frame n stands at n / refresh seconds; frames are made for all times before `until`. Fails when the sink
// does, or when the show goes on past limits::time_ms.
runtime::Status render(const runtime::Roll& roll, const RenderPlan& plan, const FrameSink& sink);

}  // namespace tallow::command
