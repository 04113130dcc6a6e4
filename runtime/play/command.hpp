// What an operator, or another machine, asks of a show that plays.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "runtime/roll/roll.hpp"
#include "runtime/status.hpp"

namespace tallow::runtime {

struct Command {
    enum class What : std::uint8_t {
        go,     // of a list
        back,   // of a list
        go_to,  // `cue`
        hold,   // of a list or of all: what would start by itself waits
        stop,   // of a list or of all: fades to nothing in `ms`
        pause,
        resume,     // the show's time
        submaster,  // to `level`
        grand,      // master, to `level`
        blackout,
        panic,
        timecode,      // stands at `code` and runs on from there, whatever a tape says
        timecode_off,  // does not run, whatever a tape says
        timecode_on,   // a tape's is followed
        // Of timecode that comes from outside, not said in words:
        tape,       // stands at `code` and runs on by the player's clock
        tape_lost,  // stands still, or comes no more
    };
    enum class Switch : std::uint8_t { over, on, off };  // over: on when it is off, off when it is on

    What what = What::go;
    // A list or a submaster in the roll. none is no list: the main one; for `hold` and `stop` all of them.
    std::uint32_t index = none;
    std::uint32_t cue = none;  // an index into the roll's cues
    Level level = 0;
    std::uint64_t ms = 0;
    Switch to = Switch::over;  // of blackout and panic
    Tick code = 0;             // ticks since the timecode's frame 0 (timecode_tick)
    // Somebody typed it and waits to hear of a level or of timecode, too. Of a machine's fader, which sends a
    // hundred a second, nobody does.
    bool wants_answer = false;
    bool operator==(const Command&) const = default;
};

// What `stop` takes where no time is said.
inline constexpr std::uint64_t stop_ms = 3000;

// Words with blanks between them, in any case but for LIST, the name of a cue list:
//   go [LIST]   back [LIST]   cue 12.5 [LIST]   hold [LIST]   stop [LIST] [2s] or [2s] [LIST]   pause resume
//   submaster 1 60%   grand 50%   blackout [on|off]   panic [on|off]   timecode 01:00:00:00   timecode off
//   timecode on
// Levels are `60%` (three decimals at most), `full` or `out`. A failure says what there is.
Result<Command> parse_command(std::string_view text, const Roll& roll);

// A level as an operator reads it, to the nearest tenth: `60%`, `62.5%`.
std::string level_words(Level level);

struct TimedCommand {
    std::uint64_t ms = 0;  // from the beginning
    Command command;
    bool operator==(const TimedCommand&) const = default;
};

// `2s go, 5s go side, 6s submaster 1 60%`: times, each with a command behind it; in the order of the times.
Result<std::vector<TimedCommand>> parse_commands(std::string_view text, const Roll& roll);

// The cue of a list with a number in thousandths, as an index into the roll. Fails with the numbers beside
// it.
Result<std::uint32_t> find_cue(const Roll& roll, std::uint32_t list, std::uint32_t number);

}  // namespace tallow::runtime
