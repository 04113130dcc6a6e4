// Which channel of a desk plays which slot.
#pragma once

#include <array>
#include <map>
#include <utility>

#include "compiler/show/show.hpp"
#include "runtime/limits.hpp"

namespace tallow::desk {

class Wiring {
  public:
    explicit Wiring(const show::Desk& desk) : universe_(desk.universe) {
        for (const show::DeskChannel& c : desk.channels) {
            by_slot_[{c.universe, c.slot}] = c.number;
            taken_[c.number] = true;
        }
    }

    // The channel that plays a slot (1..512); 0: none does.
    std::uint16_t channel(std::uint16_t universe, std::uint16_t slot) const {
        if (const auto said = by_slot_.find({universe, slot}); said != by_slot_.end()) return said->second;
        return universe == universe_ && !taken_[slot] ? slot : std::uint16_t{0};
    }

  private:
    std::uint16_t universe_;
    std::map<std::pair<std::uint16_t, std::uint16_t>, std::uint16_t> by_slot_;
    std::array<bool, runtime::limits::slots + 1> taken_{};  // channels that a line puts on another slot
};

}  // namespace tallow::desk
