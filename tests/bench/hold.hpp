// Playing in real time: how late each frame is, and beside it how late a bare clock_nanosleep loop is.
#pragma once

#include <cstdint>
#include <vector>

#include "runtime/play/intercom.hpp"

namespace tallow::bench {

struct Held {
    runtime::PlayCounts counts;
    std::uint64_t dropped = 0;  // by the output's thread
    // Nanoseconds behind its time, of each frame in the tick and behind its packets, and of each turn of the
    // bare loop.
    std::vector<std::uint64_t> late, sent, bare;
};

// Every slot of the universes changes in every frame; they go as E1.31 to loopback, on a thread of their own.
// Both clocks run at once, with the same priority.
Held hold(std::uint16_t universes, std::uint32_t refresh, std::uint64_t seconds);

// The value that so many of a hundred do not exceed.
std::uint64_t percentile(std::vector<std::uint64_t> values, std::size_t percent);

// Prints both as a table, by how late they were.
void print_held(const Held& held);

}  // namespace tallow::bench
