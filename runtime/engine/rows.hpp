// The rows of the stage: what is moved each by itself. Every parameter of the rig has the row of its own
// number. All lists share it, so that the latest statement owns it, but for intensities that several lists
// state: there the first list keeps that row, and each further one has a row behind the rig's. What
// submasters hold has rows of its own too.
#pragma once

#include <cstdint>
#include <span>
#include <vector>

#include "runtime/roll/roll.hpp"

namespace tallow::runtime {

class Rows {
  public:
    explicit Rows(const Roll& roll);

    std::size_t size() const { return parameter.size(); }
    std::vector<std::uint32_t> parameter;  // by row; none for the one row, behind the rig's, that is full

    // What a list has in a parameter that other lists state too.
    struct Claim {
        std::uint32_t parameter, list, row;
    };
    std::vector<Claim> claims;  // by parameter, then by list
    // The claims on a parameter: an index into `claims`, and how many; none on what one list states at most.
    struct Share {
        std::uint32_t first, count;
    };
    Share share(std::uint32_t p) const { return shares_.empty() ? Share{0, 0} : shares_[p]; }

    std::vector<std::uint32_t> submaster;  // by submaster: its first row; rows stand in the order of its runs

  private:
    void share_out(const Roll& roll);

    std::vector<Share> shares_;  // by parameter; empty where nothing is shared
};

}  // namespace tallow::runtime
