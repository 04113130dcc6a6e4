// Draws from a fixed seed (splitmix64, from memory): a search makes the same choices on every machine.
#pragma once

#include <cstddef>
#include <cstdint>

namespace tallow::desk::submasters {

class Draws {
  public:
    // 0..n−1. n > 0.
    std::size_t below(std::size_t n) {
        std::uint64_t z = state_ += 0x9e3779b97f4a7c15u;
        z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9u;
        z = (z ^ (z >> 27)) * 0x94d049bb133111ebu;
        return static_cast<std::size_t>((z ^ (z >> 31)) % n);
    }

  private:
    std::uint64_t state_ = 1;
};

}  // namespace tallow::desk::submasters
