// The parts of a screen, from the top down, and the ranks that their rows have (row.hpp).
#pragma once

#include "runtime/control/row.hpp"
#include "runtime/control/view.hpp"

namespace tallow::runtime::screen {

namespace rank {
inline constexpr unsigned always = 0;
inline constexpr unsigned cue = 1;     // what the next cue waits for; what fails
inline constexpr unsigned moving = 2;  // the running fade, the cue after the next one, what the arrows move
inline constexpr unsigned first_note = 3;  // the first line of a note, the latest notice
inline constexpr unsigned around = 4;      // the cue before, other lists, outputs, ways in
inline constexpr unsigned more = 5;        // further keys, submasters, frames
inline constexpr unsigned notices = 6;
inline constexpr unsigned gap = 7;
inline constexpr unsigned rest = 8;  // and more: further lines of notes, notices, cues
}  // namespace rank

// The chosen list: the cue before, now, next, after; then a line for each other list.
void add_cues(Rows& rows, const View& view);
// Now and next alone.
void add_now_and_next(Rows& rows, const View& view);
// Grand master and submasters.
void add_masters(Rows& rows, const View& view, std::size_t room);
// Outputs, who stands by, ways in, frames.
void add_surroundings(Rows& rows, const View& view);
void add_notices(Rows& rows, const View& view);
// All keys, each with what it does.
void add_help(Rows& rows, const View& view);
// The keys that are always shown.
void add_keys(Rows& rows, const View& view);

}  // namespace tallow::runtime::screen
