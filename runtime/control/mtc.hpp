// MIDI timecode: quarter frames (F1 0nnndddd, eight to a label) and full frames (F0 7F dev 01 01 hr mn sc fr
// F7). From memory, not re-read.
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <span>

#include "runtime/control/trigger.hpp"

namespace tallow::runtime {

class Mtc {
  public:
    // A message of MidiStream, and when it came: the frame that it completes, else nothing. A label of
    // quarter frames is dated back to its piece 0, at which the timecode stood at it: when piece 7 comes it
    // is seven quarters of a frame old, and two frames when the next label begins. Backwards the pieces come
    // from 7 to 0, and the label is at hand with its piece 0.
    std::optional<TimecodeFrame> take(std::uint64_t ns, std::span<const std::uint8_t> message);

  private:
    std::optional<TimecodeFrame> quarter(std::uint64_t ns, std::uint8_t data);

    std::array<std::uint8_t, 8> pieces_{};
    unsigned last_ = 0;       // the piece that came last
    unsigned run_ = 0;        // how many pieces came in turn, up to 8
    bool backwards_ = false;  // in which turn
    std::uint64_t last_ns_ = 0;
    std::uint64_t piece_0_ns_ = 0;
};

}  // namespace tallow::runtime
