// From a roll to frames: the engine on a clock that counts frames.
#pragma once

#include <cstdint>
#include <functional>
#include <optional>
#include <span>
#include <vector>

#include "runtime/play/script.hpp"
#include "runtime/roll/roll.hpp"
#include "runtime/status.hpp"

namespace tallow::command {

struct RenderPlan {
    runtime::Script script;
    std::uint64_t hold = 3000;           // milliseconds that the end stands, without `until`
    std::optional<std::uint64_t> until;  // milliseconds; none: `hold` after everything is complete
};

// Whether a script plays the main list: by commands, or by timecode.
bool plays_main(const runtime::Script& script, const runtime::Roll& roll);
// A GO of the main list for each cue that does not start by itself: the first at once, each other one `hold`
// milliseconds after the one before it is complete.
std::vector<runtime::TimedCommand> go_by_hold(const runtime::Roll& roll, std::uint64_t hold);

struct FrameSink {
    std::function<void(std::uint32_t cue)> mark;  // the next frame begins this cue (thousandths)
    std::function<runtime::Status(std::span<const std::uint8_t> slots)>
        frame;  // all universes, one after the other
};

// Frame n stands at n / refresh seconds; frames are made for all times before `until`. Cues of the main list
// are marked. Fails when the sink does, or when the show goes on past limits::time_ms. What there is to say
// to an operator goes to `said`.
runtime::Status render(const runtime::Roll& roll, const RenderPlan& plan, const FrameSink& sink,
                       std::vector<std::string>& said);

}  // namespace tallow::command
