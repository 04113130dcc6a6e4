// What a program asks of the system so as to be in time.
#pragma once

#include "runtime/status.hpp"

namespace tallow::runtime {

// Real-time priorities, of 1..99: above all ordinary work, below the kernel's own threads. Outputs come
// behind the clock.
inline constexpr int clock_priority = 20, output_priority = 19;

// Asks for real-time priority for the calling thread. A failure says what that means, and how to allow it.
Status favour_this_thread(int priority);

// Asks for the memory of the whole program to stay in place, what it asks for later too. A failure as above.
Status keep_memory_in_place();

}  // namespace tallow::runtime
