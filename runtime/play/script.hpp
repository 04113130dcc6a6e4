// What happens to a roll from outside while it plays, known ahead: commands at their times, and timecode.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "runtime/play/command.hpp"

namespace tallow::runtime {

struct Script {
    std::vector<TimedCommand> commands;     // in the order of their times
    std::optional<std::uint64_t> timecode;  // the frame of timecode at the beginning, from where it runs
};

// As options say it: `go` is times of a GO of the main list, with commas; `commands` as in parse_commands();
// `timecode` is a label. Empty ones say nothing. A failure names the option, `--go`, `--do` or `--timecode`.
struct ScriptText {
    std::string go, commands, timecode;
    bool empty() const { return go.empty() && commands.empty() && timecode.empty(); }
};
Result<Script> read_script(const ScriptText& text, const Roll& roll);

}  // namespace tallow::runtime
