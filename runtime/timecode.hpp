// Timecode: labels such as 01:00:00:00, and the frames that they count.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>

#include "runtime/roll/roll.hpp"
#include "runtime/status.hpp"

namespace tallow::runtime {

// Labels of one second: 24, 25 or 30.
std::uint32_t labels_per_second(TimecodeRate rate);

// Frames of a whole day of labels.
std::uint64_t frames_per_day(TimecodeRate rate);

// The frame that HH:MM:SS:FF names, counted from 00:00:00:00; `;` may stand before the frames in drop-frame
// counting alone. Fails on what is no label, and on the two labels that drop-frame counting leaves out at the
// beginning of each minute but every tenth (SMPTE ST 12-1, from memory, not re-read).
Result<std::uint64_t> parse_timecode(std::string_view text, TimecodeRate rate);

// The label of a frame of the first day; drop-frame labels have `;` before the frames.
std::string format_timecode(std::uint64_t frame, TimecodeRate rate);

// When a frame begins, from the first one on: the nearest tick of a time line with `refresh` frames a second.
Tick timecode_tick(std::uint64_t frame, TimecodeRate rate, std::uint32_t refresh);

// The frame that begins nearest to a tick, the way back from timecode_tick(): of the first day.
std::uint64_t timecode_frame(Tick tick, TimecodeRate rate, std::uint32_t refresh);

}  // namespace tallow::runtime
