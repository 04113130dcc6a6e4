// Which recordings bring which cells to their low bound: what has to be known to move one of them.
#pragma once

#include <cstdint>
#include <vector>

#include "compiler/desk/submasters/bounds.hpp"

namespace tallow::desk::submasters {

class Reach {
  public:
    // positions: cues × recordings. Both may be changed through set_… alone while this is in use.
    Reach(const Bounds& bounds, Levels& positions, Levels& recordings, Percent notch);

    // Where a position, or a level, may stand while all else stays, for the bounds to be kept as they are.
    Between positions(std::size_t cue, std::size_t recording) const;
    Between levels(std::size_t recording, std::size_t channel) const;

    void set_position(std::size_t cue, std::size_t recording, Percent position);
    void set_level(std::size_t recording, std::size_t channel, Percent level);

  private:
    bool reached_by(std::size_t cue, std::size_t recording, std::size_t channel) const;
    bool needs(std::size_t cue, std::size_t recording, std::size_t channel) const;
    std::uint32_t& count(std::size_t cue, std::size_t channel);

    const Bounds& bounds_;
    Levels& positions_;
    Levels& recordings_;
    Percent notch_;
    std::vector<std::uint32_t> count_;  // of each cell, how many recordings reach its low
};

}  // namespace tallow::desk::submasters
