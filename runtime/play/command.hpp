// What an operator asks for while a roll plays: `go`, `back`, `stop`, each alone or with a cue list's name;
// `submaster 1 60%`; `master 50%`.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "runtime/engine/engine.hpp"
#include "runtime/status.hpp"

namespace tallow::runtime {

struct Command {
    enum class What : std::uint8_t { go, back, stop, submaster, master };
    What what = What::go;
    // Of a list or of a submaster in the roll; none for no list: the main one, and for `stop` all of them.
    std::uint32_t index = none;
    Level level = 0;  // of a submaster or the grand master
    bool operator==(const Command&) const = default;
};

// Words with blanks between them; levels are `60%` (three decimals at most), `full` or `out`. A failure says
// what there is.
Result<Command> parse_command(std::string_view text, const Roll& roll);

struct TimedCommand {
    std::uint64_t ms = 0;  // from the beginning
    Command command;
    bool operator==(const TimedCommand&) const = default;
};

// `2s go, 5s go side, 6s submaster 1 60%`: times, each with a command behind it; in the order of the times.
Result<std::vector<TimedCommand>> parse_commands(std::string_view text, const Roll& roll);

// Does it at tick t, which lies not before the engine's last. What there is to say to the operator, or "".
std::string obey(const Command& command, Engine& engine, const Roll& roll, Tick t);

}  // namespace tallow::runtime
