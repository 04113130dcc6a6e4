// What straight play of a cue list would give, for a jump into its middle.
#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "runtime/engine/running_waves.hpp"
#include "runtime/roll/roll.hpp"

namespace tallow::runtime {

class StraightPlay {
  public:
    explicit StraightPlay(const Roll& roll);

    // Ticks from the GO of a cue to that of the same or a later cue of its list. Nothing where a GO by hand
    // lies between them; timecode fixes times too.
    std::optional<Tick> time_between(std::uint32_t from, std::uint32_t to) const;

    // How a wave or chase stands at the GO of a cue that it runs in. Nothing where its age hangs on a GO by
    // hand, or no cue of the list begins it.
    struct Age {
        Tick ticks = 0;     // since it began
        Turns carried = 0;  // the phase that it began with
    };
    std::optional<Age> age(std::uint32_t source, std::uint32_t cue) const;

  private:
    std::uint32_t starter(std::uint32_t source, std::uint32_t cue) const;
    Turns carried(std::uint32_t wave, std::uint32_t cue) const;

    const Roll& roll_;
    std::vector<std::uint32_t> list_first_;             // by cue: the first of its list
    std::vector<std::vector<std::uint32_t>> starters_;  // by source: the cues that begin it, in order
};

}  // namespace tallow::runtime
