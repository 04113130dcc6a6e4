// The latest of many values, handed from one thread to another: the one writes at its pace, the other reads
// at its own; neither waits, locks or allocates.
#pragma once

#include <array>
#include <atomic>
#include <cstdint>

namespace tallow::runtime {

template <class T>
class Latest {
  public:
    explicit Latest(const T& first) : values_{first, first, first} {}

    // The writer's own value, to be filled; then it is handed over. What it holds after that is older.
    T& draft() { return values_[writes_]; }
    void hand_over() { writes_ = shared_.exchange(writes_ | fresh, std::memory_order_acq_rel) & place; }

    // The reader's: the latest that was handed over. It stays as it is until the next call.
    const T& read() {
        if ((shared_.load(std::memory_order_acquire) & fresh) != 0)
            reads_ = shared_.exchange(reads_, std::memory_order_acq_rel) & place;
        return values_[reads_];
    }

  private:
    static constexpr std::uint8_t fresh = 4, place = 3;
    std::array<T, 3> values_;
    std::uint8_t writes_ = 0, reads_ = 1;
    std::atomic<std::uint8_t> shared_{2};
};

}  // namespace tallow::runtime
