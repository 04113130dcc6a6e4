// The rules that a roll holds to, part by part, in the order in which the parts refer to each other.
#pragma once

#include <cstdint>
#include <vector>

#include "runtime/roll.hpp"
#include "runtime/status.hpp"

namespace tallow::runtime {

// Each check relies on the parts before it having passed; a failure names the part and what is wrong with it.
class RollCheck {
  public:
    explicit RollCheck(const Roll& roll) : roll_(roll) {}

    Status head();
    Status universes();
    Status parameters();
    Status waveform(std::size_t index);
    Status wave(std::size_t index);
    Status cue(std::size_t index);
    Status picture(std::size_t index);
    Status whole();  // what can be known only once all parts are there

  private:
    Status slots_of(std::uint32_t parameter);
    Status above(std::uint32_t parameter);
    Status run_of(const Run& run, std::size_t cue);
    bool moves(std::uint32_t wave, std::uint32_t parameter) const;

    const Roll& roll_;
    std::vector<bool> taken_;               // slots, 512 for each universe
    std::vector<std::uint32_t> lands_;      // by virtual intensity: the universe of what it scales
    std::vector<std::uint32_t> stated_by_;  // by parameter: one more than the cue that stated it last
    std::uint64_t wave_rows_ = 0;
};

}  // namespace tallow::runtime
