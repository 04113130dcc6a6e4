// Times as people write them: `10s`, `250ms`, `1.5s`, `2min`, `1min30s`. Whole milliseconds, exactly.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "runtime/status.hpp"

namespace tallow::runtime {

// Milliseconds. Minutes, seconds, milliseconds in this order, each at most once, with or without blanks
// before a unit; the last may have decimals. A bare number, a part of a millisecond, and more than
// limits::time_ms are failures.
Result<std::uint64_t> parse_duration(std::string_view text);

// Several, with commas between them.
Result<std::vector<std::uint64_t>> parse_durations(std::string_view text);

// The shortest such text: "0s", "250ms", "1.5s", "2min", "1min30s".
std::string format_duration(std::uint64_t milliseconds);

// The same for people, where a part of a tenth does not matter, nor from a minute on one of a second: "2.1s",
// "1min 05s", "22h 00min 05s".
std::string rough_duration(std::uint64_t milliseconds);

// A time since the beginning of a show: "0:42:17", hours, minutes and seconds.
std::string clock_time(std::uint64_t milliseconds);

// How many frames stand before a time: the first one at or after it, and the length of a stretch that ends
// there. At most limits::time_ms milliseconds.
constexpr std::uint64_t frames_before(std::uint64_t milliseconds, std::uint32_t refresh) {
    return (milliseconds * refresh + 999) / 1000;
}

}  // namespace tallow::runtime
