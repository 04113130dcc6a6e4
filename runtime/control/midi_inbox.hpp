// Messages from a MIDI port's thread to the operator's, through a pipe: so that a listener hears of them on
// one thread, and can wait for them beside all other ways in.
#pragma once

#include <array>
#include <cstdint>
#include <span>

#include "runtime/control/midi.hpp"
#include "runtime/status.hpp"

namespace tallow::runtime {

class MidiInbox {
  public:
    MidiInbox() = default;
    ~MidiInbox();
    MidiInbox(const MidiInbox&) = delete;
    MidiInbox& operator=(const MidiInbox&) = delete;

    Status open();
    // On the port's thread. Never waits: what is longer than midi_message_bytes is left out, and so is what
    // comes when nobody has read for long.
    void put(std::uint64_t ns, std::span<const std::uint8_t> message) const;
    int descriptor() const { return pipe_[0]; }
    // On the operator's thread: what is there, or a good part of it.
    void read(MidiReader& reader, std::string_view from, Listener& listener);

  private:
    std::array<int, 2> pipe_{-1, -1};  // out, in
};

}  // namespace tallow::runtime
