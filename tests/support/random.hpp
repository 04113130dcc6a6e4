// Random numbers that are the same on every machine: splitmix64 from a seed, taken modulo.
#pragma once

#include <cstdint>

namespace tallow::test {

class Random {
  public:
    explicit Random(std::uint64_t seed) : state_(seed) {}

    std::uint64_t bits() {
        std::uint64_t z = state_ += 0x9e3779b97f4a7c15u;
        z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9u;
        z = (z ^ (z >> 27)) * 0x94d049bb133111ebu;
        return z ^ (z >> 31);
    }
    // 0..n−1.
    template <class T>
    T below(T n) {
        return static_cast<T>(bits() % static_cast<std::uint64_t>(n));
    }
    // True once in n times.
    bool one_in(unsigned n) { return below(n) == 0; }
    template <class Range>
    const auto& one_of(const Range& range) {
        return *(std::begin(range) + below(static_cast<std::int64_t>(std::size(range))));
    }

  private:
    std::uint64_t state_;
};

}  // namespace tallow::test
