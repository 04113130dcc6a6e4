#pragma once

#include <cstdint>
#include <span>

namespace tallow::test {

// Takes the bytes for an OSC packet, and what is read for words. Throws when limits are passed, when words
// could be more than a command of plain words, or when a message that is written again is read otherwise.
void fuzz_osc(std::span<const std::uint8_t> bytes);

// Takes the bytes for what comes from a MIDI port, and gives the timecode in it to a chase. Throws when what
// is told could not be.
void fuzz_midi(std::span<const std::uint8_t> bytes);

}  // namespace tallow::test
