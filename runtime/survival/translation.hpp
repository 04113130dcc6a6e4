// From one roll to another that a show was changed into: what is the same in both.
#pragma once

#include <cstdint>
#include <vector>

#include "runtime/engine/standing.hpp"
#include "runtime/roll/roll.hpp"

namespace tallow::runtime {

class Translation {
  public:
    // Cues are the same by list and number (or the one before), submasters by number, parameters by key, and
    // waves and chases where all of them is equal. Both rolls must outlive this.
    Translation(const Roll& from, const Roll& to);

    // How a show of the first roll would stand in the second.
    Standing operator()(const Standing& standing) const;
    // By parameter of the second roll: the one of the first, or none.
    const std::vector<std::uint32_t>& parameters() const { return parameters_; }

  private:
    const Roll &from_, &to_;
    std::vector<std::uint32_t> parameters_;
    std::vector<std::uint32_t> sources_;  // by source of the second: that of the first, or none
    std::vector<std::uint32_t> lists_, submasters_, claims_;  // in the same way
};

}  // namespace tallow::runtime
