// The slots of one frame, kept.
#pragma once

#include <algorithm>
#include <cstdint>
#include <span>
#include <vector>

#include "runtime/roll/roll.hpp"

namespace tallow::runtime {

class FrameCopy {
  public:
    // Room for these universes; nothing is allocated after it.
    void make_room(std::span<const Universe> universes) {
        std::size_t size = 0;
        for (const Universe& u : universes) size += u.slots;
        bytes_.resize(size);
        const std::span<const std::uint8_t> all = bytes_;
        size = 0;
        for (const Universe& u : universes) {
            slots_.push_back(all.subspan(size, u.slots));
            size += u.slots;
        }
    }
    // Copies a universe's slots as far as there is room for them.
    void fill(std::span<const std::span<const std::uint8_t>> slots) {
        std::uint8_t* to = bytes_.data();
        for (std::size_t i = 0; i < std::min(slots_.size(), slots.size()); ++i) {
            std::copy_n(slots[i].begin(), std::min(slots_[i].size(), slots[i].size()), to);
            to += slots_[i].size();
        }
    }
    // Of each universe.
    std::span<const std::span<const std::uint8_t>> slots() const { return slots_; }

  private:
    std::vector<std::uint8_t> bytes_;
    std::vector<std::span<const std::uint8_t>> slots_;  // in bytes_
};

}  // namespace tallow::runtime
