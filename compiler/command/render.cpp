#include <algorithm>
#include <fmt/format.h>
#include <unistd.h>

#include "compiler/command/commands.hpp"
#include "compiler/command/rendering.hpp"
#include "compiler/command/report.hpp"
#include "runtime/duration.hpp"
#include "runtime/frames.hpp"
#include "runtime/hash.hpp"
#include "runtime/roll_io.hpp"

namespace tallow::command {
namespace {

// The plan that the options ask for; a failure names the option.
runtime::Result<RenderPlan> plan_of(const RenderOptions& options) {
    RenderPlan plan;
    const auto hold = runtime::parse_duration(options.hold);
    if (!hold.ok()) return runtime::Status::failure("--hold: " + hold.why());
    plan.hold = *hold;
    if (!options.go.empty()) {
        const auto go = runtime::parse_durations(options.go);
        if (!go.ok()) return runtime::Status::failure("--go: " + go.why());
        if (!std::is_sorted(go->begin(), go->end()))
            return runtime::Status::failure("--go: the times must grow");
        plan.go = *go;
        plan.by_hold = false;
    }
    if (!options.until.empty()) {
        const auto until = runtime::parse_duration(options.until);
        if (!until.ok()) return runtime::Status::failure("--until: " + until.why());
        plan.until = *until;
    }
    return plan;
}

}  // namespace

int render(const RenderOptions& options) {
    const auto plan = plan_of(options);
    if (!plan.ok()) return complain(plan.why());
    int exit = done;
    const auto compiled = compile_or_complain(options.show, exit);
    if (!compiled) return exit;
    const runtime::Roll roll = make_roll(*compiled);
    if (roll.universes.empty()) return complain("the show has no fixtures: there is nothing to render");

    runtime::FramesWriter writer;
    if (auto s = writer.open(options.output,
                             {roll.refresh, roll.universes, runtime::hash(runtime::write_roll(roll))});
        !s.ok())
        return complain(s.why());
    std::uint64_t frames = 0, cues = 0;
    const bool progress = ::isatty(STDERR_FILENO) != 0;
    const FrameSink sink{[&](std::uint32_t cue) {
                             writer.mark(cue);
                             ++cues;
                         },
                         [&](std::span<const std::uint8_t> slots) {
                             if (progress && frames % 10000 == 9999)
                                 fmt::print(stderr, "\r{} frames", frames + 1);
                             ++frames;
                             return writer.frame(slots);
                         }};
    if (auto s = render(roll, *plan, sink); !s.ok()) return complain(s.why());
    if (progress && frames > 9999) fmt::print(stderr, "\r                \r");
    if (auto s = writer.commit(); !s.ok()) return complain(s.why());
    fmt::print("{}: {} frames at {} Hz, {}, {} universes, {} cues\n", options.output, frames, roll.refresh,
               runtime::format_duration(frames * 1000 / roll.refresh), roll.universes.size(), cues);
    return done;
}

}  // namespace tallow::command
