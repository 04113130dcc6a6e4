#include <algorithm>
#include <fmt/format.h>
#include <unistd.h>

#include "compiler/command/commands.hpp"
#include "compiler/command/rendering.hpp"
#include "compiler/command/report.hpp"
#include "compiler/text/counted.hpp"
#include "runtime/duration.hpp"
#include "runtime/files.hpp"
#include "runtime/frames/frames.hpp"
#include "runtime/hash.hpp"
#include "runtime/roll/roll_io.hpp"

namespace tallow::command {
namespace {

// The times of the plan that the options ask for; a failure names the option.
runtime::Result<RenderPlan> times_of(const RenderOptions& options) {
    RenderPlan plan;
    const auto hold = runtime::parse_duration(options.hold);
    if (!hold.ok()) return runtime::Status::failure("--hold: " + hold.why());
    plan.hold = *hold;
    if (!options.until.empty()) {
        const auto until = runtime::parse_duration(options.until);
        if (!until.ok()) return runtime::Status::failure("--until: " + until.why());
        plan.until = *until;
    }
    return plan;
}

// Adds what happens in a show: what the options say, and unless they play the main list, its cues by hold.
runtime::Status add_script(const RenderOptions& options, const runtime::Roll& roll, RenderPlan& plan) {
    auto script = runtime::read_script(options.script, roll);
    if (!script.ok()) return script.status();
    plan.script = std::move(*script);
    if (plays_main(plan.script, roll)) return {};
    auto& commands = plan.script.commands;
    const auto by_hold = go_by_hold(roll, plan.hold);
    commands.insert(commands.end(), by_hold.begin(), by_hold.end());
    std::stable_sort(commands.begin(), commands.end(),
                     [](const auto& a, const auto& b) { return a.ms < b.ms; });
    return {};
}

}  // namespace

int render(const RenderOptions& options) {
    auto plan = times_of(options);
    if (!plan.ok()) return complain(plan.why());
    if (auto s = runtime::may_write(options.output, options.show); !s.ok()) return complain(s.why());
    int exit = done;
    const auto compiled = compile_or_complain(options.show, exit);
    if (!compiled) return exit;
    const runtime::Roll roll = make_roll(*compiled);
    if (roll.universes.empty()) return complain("the show has no fixtures: there is nothing to render");
    if (auto s = add_script(options, roll, *plan); !s.ok()) return complain(s.why());

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
    std::vector<std::string> said;
    if (auto s = render(roll, *plan, sink, said); !s.ok()) return complain(s.why());
    if (progress && frames > 9999) fmt::print(stderr, "\r                \r");
    for (const std::string& line : said) fmt::print(stderr, "{}\n", line);
    if (auto s = writer.commit(); !s.ok()) return complain(s.why());
    fmt::print("{}: {} at {} Hz, {}, {}, {}\n", options.output, text::counted(frames, "frame"), roll.refresh,
               runtime::format_duration(frames * 1000 / roll.refresh),
               text::counted(roll.universes.size(), "universe"), text::counted(cues, "cue"));
    return done;
}

}  // namespace tallow::command
