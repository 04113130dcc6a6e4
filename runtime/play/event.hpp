// What happens while a show plays, for an operator to hear.
#pragma once

#include <cstdint>
#include <string>

#include "runtime/engine/standing.hpp"
#include "runtime/play/command.hpp"

namespace tallow::runtime {

// What came of a command.
enum class Answer : std::uint8_t {
    done,
    on,
    off,            // of a switch
    last_cue,       // no next one
    first_cue,      // no one before
    nothing,        // it was so already
    waits,          // until the pause ends
    no_panic_look,  // the show has none
};

struct Event {
    enum class What : std::uint8_t { cue, answer };
    What what = What::cue;
    Tick at = 0;               // by the player's clock: of a command, or of the frame that shows a cue
    std::uint32_t cue = none;  // that began, an index into the roll
    Command command;           // that was obeyed
    Answer answer = Answer::done;
    bool starts_next = false;  // what comes behind that cue starts by itself, or has
};

// One line for an operator; "" where there is nothing to say. A cue: it, what comes next, and on what.
std::string describe(const Event& event, const Roll& roll);

// Where the lists stand, the cues named as describe() names them: `in cue 3 "Storm"`; of several lists those
// that have begun: `in main cue 3 "Storm", side cue 1 (stopped)`, which fades out or is dark; or `before the
// first cue`.
std::string present_cues(const Standing& show, const Roll& roll);

// The same, and behind it what the operator's hands hold that is not as at the start: `in cue 3, with
// blackout, grand master at 50%, submaster 1 "Front" at 100%`.
std::string how_it_stands(const Standing& show, const Roll& roll);

// `submaster 1 "Front" at 100%`.
std::string submaster_at(const Submaster& submaster, Level level);

}  // namespace tallow::runtime
