// A show's standing as text: for the file that a restart reads, and for the machine that stands by.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>

#include "runtime/engine/standing.hpp"
#include "runtime/play/tape_use.hpp"
#include "runtime/roll/roll.hpp"
#include "runtime/status.hpp"
#include "runtime/survival/gone_cues.hpp"

namespace tallow::runtime {

struct State {
    std::uint64_t roll = 0;     // hash() of the roll's bytes
    std::uint64_t wall_ms = 0;  // when it stood so, in milliseconds since 1970
    bool paused = false;
    Standing show;      // by the indices of a roll
    std::string cid{};  // of the source that sends it by E1.31, a UUID; "" where that does not matter
    TapeUse tape = TapeUse::followed;
    // As they were read.
    std::string title{};          // of the show that stood so, as title_in_state() tells it; "" if not known
    std::vector<GoneCue> gone{};  // in which it stood, and the roll has no more; a few at most
};

// A roll's title, as a state bears it: in one line, cut where it is long; "" for none.
std::string title_in_state(const Roll& roll);

// What a state of another roll than the one that plays is a state of, as far as is known.
bool is_of_another_show(const State& state, const Roll& roll);

// The text (FORMATS.md): lines of words, the last with the hash of those before.
std::string write_state(const State& state, const Roll& roll);

// Whether a text begins as a state does, whole or not.
bool is_state(std::string_view text);

// From such text, for a roll of which `roll_hash` is the hash; where it is another one than the state's, cues
// are found by list and number (or the one before it), and waves and chases begin anew. Fails on what is
// damaged or past limits::state_bytes.
Result<State> read_state(std::string_view text, const Roll& roll, std::uint64_t roll_hash);

}  // namespace tallow::runtime
