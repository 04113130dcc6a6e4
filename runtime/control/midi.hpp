// MIDI: notes, show control and timecode from a port. What the bytes mean is read without any hardware; the
// port itself is there where the player was built with RtMidi (CMake's TALLOW_MIDI).
#pragma once

#include <array>
#include <cstdint>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "runtime/control/complaints.hpp"
#include "runtime/control/midi_stream.hpp"
#include "runtime/control/mtc.hpp"
#include "runtime/control/show_control.hpp"
#include "runtime/control/trigger.hpp"
#include "runtime/play/clock.hpp"
#include "runtime/status.hpp"

namespace tallow::runtime {

// A note that is a GO: its number, and of which list; empty: the main one.
struct MidiNote {
    std::uint8_t number = 0;  // 0..127
    std::string list;
    bool operator==(const MidiNote&) const = default;
};

// `60` or `60=LIST`.
Result<MidiNote> parse_midi_note(std::string_view text);

struct MidiOptions {
    std::string port;                     // a part of its name
    std::vector<MidiNote> notes;          // others do nothing
    std::optional<std::uint8_t> channel;  // of the notes, 1..16; none: every one
    std::uint8_t device = 0;              // of show control, 0..111; 127, for all, is always heard
    std::vector<std::string> lists;       // the show's cue lists, the main one first
};

// What the bytes of one port mean.
class MidiReader {
  public:
    explicit MidiReader(MidiOptions options) : options_(std::move(options)) {}
    // Bytes that came at `ns`, in order; messages may be cut anywhere.
    void read(std::uint64_t ns, std::span<const std::uint8_t> bytes, std::string_view from,
              Listener& listener);

  private:
    void message(std::uint64_t ns, std::span<const std::uint8_t> m, std::string_view from,
                 Listener& listener);
    void note(std::uint64_t ns, std::span<const std::uint8_t> m, std::string_view from, Listener& listener);

    MidiOptions options_;
    MidiStream stream_;
    Mtc mtc_;
    Complaints complaints_;
};

// Opens the first port whose name has `options.port` in it. Fails where there is none, with the names of
// those that there are, and where the player was built without MIDI. `clock` must live as long, and its now()
// is called on another thread.
Result<std::unique_ptr<Trigger>> open_midi(const MidiOptions& options, Clock& clock);

}  // namespace tallow::runtime
