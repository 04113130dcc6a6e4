// MIDI 1.0: messages out of a stream of bytes. Facts of MIDI here are from memory, not re-read.
#pragma once

#include <cstdint>
#include <span>
#include <vector>

namespace tallow::runtime {

// The longest message that is read; longer ones, which are none of those that the player knows, are left out.
inline constexpr std::size_t midi_message_bytes = 256;

class MidiStream {
  public:
    MidiStream() { message_.reserve(midi_message_bytes); }
    // The message that this byte completes, its status byte first, until the next call; else nothing. Running
    // status is filled in. Realtime messages (F8 to FF) may stand anywhere and are left out, and so are
    // messages that another one cuts off.
    std::span<const std::uint8_t> take(std::uint8_t byte);

  private:
    std::span<const std::uint8_t> take_status(std::uint8_t status);
    std::span<const std::uint8_t> take_data(std::uint8_t data);

    std::vector<std::uint8_t> message_;
    std::uint8_t running_ = 0;  // the status that data bytes belong to; 0: none
    bool whole_ = false;        // message_ has been given out
};

}  // namespace tallow::runtime
