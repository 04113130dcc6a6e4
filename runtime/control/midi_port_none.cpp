// In place of midi_port.cpp where the player is built without RtMidi.
#include "runtime/control/midi.hpp"

namespace tallow::runtime {

Result<std::unique_ptr<Trigger>> open_midi(const MidiOptions&, Clock&) {
    return Status::failure(
        "cannot open a MIDI port: this player was built without MIDI; build it with RtMidi (Debian's "
        "`librtmidi-dev`) and `-DTALLOW_MIDI=ON`");
}

}  // namespace tallow::runtime
