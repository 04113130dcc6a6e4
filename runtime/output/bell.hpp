// Wakes a thread that waits, without a lock.
#pragma once

#include <atomic>
#include <cstdint>
#include <limits>

namespace tallow::runtime {

inline constexpr std::uint64_t never = std::numeric_limits<std::uint64_t>::max();

// The waiting thread reads rings(), looks whether there is anything to do, and waits with what it read: a
// ring in between is not lost. Any thread may ring; that takes one call of the system and never blocks.
class Bell {
  public:
    std::uint32_t rings() const { return rings_.load(std::memory_order_acquire); }
    void ring();
    // Comes back once rings() is not `seen` any more, or at `until` by monotonic_now().
    void wait(std::uint32_t seen, std::uint64_t until = never) const;

  private:
    std::atomic<std::uint32_t> rings_{0};
};

}  // namespace tallow::runtime
