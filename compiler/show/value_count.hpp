// How much work and room lines come to, counted before anything is played.
#pragma once

#include <vector>

#include "compiler/show/show.hpp"

namespace tallow::show {

// Counts values that lines set, never too few; members with times of their own weigh more. Needs sound
// looks: without cycles, and within their limit.
class ValueCount {
  public:
    explicit ValueCount(const Show& show);

    std::uint64_t of(const Cue& cue);
    std::uint64_t of(const std::vector<Item>& items);

  private:
    struct Values {
        std::uint64_t members = 0, levels = 0, others = 0;
        bool known = false;
    };
    std::uint64_t of_look(Index index);
    std::uint64_t of_line(const Statement& statement);
    const Values& of_selection(Index index);

    const Show& show_;
    std::vector<std::uint64_t> looks_;
    std::vector<Values> selections_;
};

}  // namespace tallow::show
