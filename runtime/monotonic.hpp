// The system's clock that never goes back, in nanoseconds.
#pragma once

#include <cstdint>
#include <time.h>

namespace tallow::runtime {

inline constexpr std::uint64_t second_ns = 1000000000;

inline timespec as_timespec(std::uint64_t ns) {
    return {static_cast<time_t>(ns / second_ns), static_cast<long>(ns % second_ns)};
}

inline std::uint64_t monotonic_now() {
    timespec t{};
    ::clock_gettime(CLOCK_MONOTONIC, &t);
    return static_cast<std::uint64_t>(t.tv_sec) * second_ns + static_cast<std::uint64_t>(t.tv_nsec);
}

}  // namespace tallow::runtime
