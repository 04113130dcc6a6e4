// A queue between two threads: one puts in, one takes out; neither waits, locks or allocates.
#pragma once

#include <array>
#include <atomic>
#include <cstddef>
#include <optional>
#include <utility>

namespace tallow::runtime {

// Of trivially copyable values; `capacity` is a power of two.
template <class T, std::size_t capacity>
class Ring {
    static_assert((capacity & (capacity - 1)) == 0);

  public:
    // False, and nothing done, when it is full.
    bool put(const T& value) {
        const std::size_t end = end_.load(std::memory_order_relaxed);
        if (end - begin_.load(std::memory_order_acquire) == capacity) return false;
        values_[end % capacity] = value;
        end_.store(end + 1, std::memory_order_release);
        return true;
    }
    // The first that was put in; nothing when it is empty.
    std::optional<T> take() {
        const std::size_t begin = begin_.load(std::memory_order_relaxed);
        if (begin == end_.load(std::memory_order_acquire)) return {};
        std::optional<T> value(values_[begin % capacity]);
        begin_.store(begin + 1, std::memory_order_release);
        return value;
    }

  private:
    std::array<T, capacity> values_{};
    alignas(64) std::atomic<std::size_t> begin_{0};
    alignas(64) std::atomic<std::size_t> end_{0};
};

}  // namespace tallow::runtime
