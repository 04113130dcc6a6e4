#include "runtime/output/bell.hpp"

#include <linux/futex.h>
#include <sys/syscall.h>
#include <unistd.h>

#include "runtime/monotonic.hpp"

namespace tallow::runtime {
namespace {

static_assert(sizeof(std::atomic<std::uint32_t>) == sizeof(std::uint32_t));  // the system reads it

long futex(const std::atomic<std::uint32_t>& word, int what, std::uint32_t value, const timespec* until) {
    // The address of an atomic is what the system compares and knows a waiter by; it only reads there.
    return ::syscall(SYS_futex, const_cast<std::atomic<std::uint32_t>*>(&word), what | FUTEX_PRIVATE_FLAG,
                     value, until, nullptr, FUTEX_BITSET_MATCH_ANY);
}

}  // namespace

void Bell::ring() {
    rings_.fetch_add(1, std::memory_order_release);
    futex(rings_, FUTEX_WAKE, 1, nullptr);
}

void Bell::wait(std::uint32_t seen, std::uint64_t until) const {
    const timespec at = as_timespec(until);
    // FUTEX_WAIT_BITSET takes the time itself, on this very clock, and not how long.
    while (rings() == seen && (until == never || monotonic_now() < until))
        futex(rings_, FUTEX_WAIT_BITSET, seen, until == never ? nullptr : &at);
}

}  // namespace tallow::runtime
