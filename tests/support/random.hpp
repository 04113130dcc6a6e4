// Random numbers that are the same on every machine.
#pragma once

#include <cstdint>

namespace tallow::tests {

// SplitMix64 (Steele, Lea, Flood 2014; public domain).
class Random {
  public:
    explicit Random(std::uint64_t seed) : state_(seed) {}
    std::uint64_t next() {
        std::uint64_t z = state_ += 0x9e3779b97f4a7c15u;
        z = (z ^ z >> 30) * 0xbf58476d1ce4e5b9u;
        z = (z ^ z >> 27) * 0x94d049bb133111ebu;
        return z ^ z >> 31;
    }
    std::uint64_t below(std::uint64_t bound) { return bound == 0 ? 0 : next() % bound; }

  private:
    std::uint64_t state_;
};

}  // namespace tallow::tests
