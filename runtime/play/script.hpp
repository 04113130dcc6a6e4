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

// Gives an engine what a script says, each at its exact time.
class Prompter {
  public:
    Prompter(const Roll& roll, Script script) : roll_(roll), script_(std::move(script)) {}

    // All that is due by tick t and was not given yet. What there is to say to the operator goes to `said`.
    void prompt(Engine& engine, Tick t, std::vector<std::string>& said);
    // Whether all is given, and the last of it at tick t at the latest.
    bool done(Tick t) const {
        return given_ == script_.commands.size() && (given_ == 0 || time_of(given_ - 1) <= t);
    }

  private:
    Tick time_of(std::size_t command) const { return script_.commands[command].ms * roll_.refresh; }

    const Roll& roll_;
    Script script_;
    std::size_t given_ = 0;  // commands
    bool begun_ = false;     // the timecode runs
};

}  // namespace tallow::runtime
