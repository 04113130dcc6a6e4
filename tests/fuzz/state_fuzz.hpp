#pragma once

#include <cstdint>
#include <span>

namespace tallow::test {

// Takes the bytes for the lines of a state, of one roll or another, and puts a right hash behind them: what
// is read is written and read again, and played on, alone and by a follower. True where it was read. Throws
// when it is read otherwise.
bool fuzz_state(std::span<const std::uint8_t> bytes);

// Takes the bytes for packets, each with its length in a byte before it, that come to a player that stands
// by. Throws when what is put together could not be.
void fuzz_state_parts(std::span<const std::uint8_t> bytes);

// Takes the bytes for packets as above, that come to a player that tells. Throws when people were told of
// anything but that somebody stands by or nobody does, or too often.
void fuzz_state_answers(std::span<const std::uint8_t> bytes);

}  // namespace tallow::test
