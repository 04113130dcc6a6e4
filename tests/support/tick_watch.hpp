// What a thread asks of memory, of locks and of the system, so that a case can tell that it asks nothing.
#pragma once

#include <cstddef>

namespace tallow::test {

struct Asked {
    std::size_t allocations = 0;  // with `new`
    std::size_t locks = 0;        // of pthread, which the standard library's are
    std::size_t calls = 0;        // of the system, since guard_this_thread(), that it refused
    long last_call = -1;          // the number of the last of these
};
// By the calling thread, from its beginning on.
Asked asked();

// From here on the calling thread can read a clock, wait for a time, wake other threads and end. Every other
// call of the system is counted and comes to nothing. That cannot be taken back: it is for a thread that the
// case has made. False where the system or the build has no such guard; then `calls` stays 0.
bool guard_this_thread();

}  // namespace tallow::test
