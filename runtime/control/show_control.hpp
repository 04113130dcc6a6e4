// MIDI show control: F0 7F device 02 format command data F7. From memory, not re-read.
#pragma once

#include <cstdint>
#include <span>
#include <string>
#include <vector>

#include "runtime/status.hpp"

namespace tallow::runtime {

inline constexpr std::uint8_t show_control_all = 0x7f;     // every device, every format
inline constexpr std::uint8_t show_control_devices = 112;  // 0 to 111; above are groups and all

// Whether a message of MidiStream is show control for lighting (format 01, or 7F), for this device or all.
bool is_show_control(std::span<const std::uint8_t> message, std::uint8_t device);

// The words of command.hpp for such a message:
//   GO (01)      `go`; with a cue's number `cue N`; lists are counted from 1, the main one, by `lists`
//   STOP (02)    `pause`: what is going on stands still, which is what the standard asks
//   RESUME (03)  `resume`: it goes on
//   ALL_OFF (08) `blackout on`, RESTORE (09) `blackout off`
// Fails for other commands, for data that is none, and for a cue behind STOP and RESUME, which the player has
// for the show as a whole only.
Result<std::string> show_control_words(std::span<const std::uint8_t> message,
                                       const std::vector<std::string>& lists);

}  // namespace tallow::runtime
