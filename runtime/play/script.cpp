#include "runtime/play/script.hpp"

#include <algorithm>
#include <fmt/format.h>

#include "runtime/duration.hpp"
#include "runtime/timecode.hpp"

namespace tallow::runtime {
namespace {

Status in_option(std::string_view option, const std::string& why) {
    return Status::failure(fmt::format("{}: {}", option, why));
}

}  // namespace

Result<Script> read_script(const ScriptText& text, const Roll& roll) {
    Script script;
    if (!text.commands.empty()) {
        auto commands = parse_commands(text.commands, roll);
        if (!commands.ok()) return in_option("--do", commands.why());
        script.commands = std::move(*commands);
    }
    if (!text.go.empty()) {
        const auto times = parse_durations(text.go);
        if (!times.ok()) return in_option("--go", times.why());
        for (const std::uint64_t ms : *times) script.commands.push_back({ms, {}});
    }
    if (!text.timecode.empty()) {
        const auto frame = parse_timecode(text.timecode, roll.timecode_rate);
        if (!frame.ok()) return in_option("--timecode", frame.why());
        script.timecode = *frame;
    }
    std::stable_sort(script.commands.begin(), script.commands.end(),
                     [](const TimedCommand& a, const TimedCommand& b) { return a.ms < b.ms; });
    return script;
}

}  // namespace tallow::runtime
