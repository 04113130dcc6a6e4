// Complaints of one way in, held back when there are too many, so that nobody floods the operator.
#pragma once

#include <cstdint>
#include <fmt/format.h>
#include <string>

#include "runtime/control/trigger.hpp"

namespace tallow::runtime {

class Complaints {
  public:
    static constexpr unsigned at_once = 5;
    static constexpr std::uint64_t while_ns = 1000000000;

    // Passes on the first `at_once` of each `while_ns`; the next one after those says how many were not.
    void tell(std::uint64_t ns, Listener& listener, std::string_view from, std::string_view why) {
        if (ns - since_ >= while_ns || since_ == 0) {
            since_ = ns;
            told_ = 0;
        }
        if (told_ == at_once) {
            ++held_back_;
            return;
        }
        ++told_;
        if (held_back_ == 0) return listener.complaint(from, why);
        listener.complaint(from, fmt::format("{} ({} more before this were left out)", why, held_back_));
        held_back_ = 0;
    }

  private:
    std::uint64_t since_ = 0;
    unsigned told_ = 0;
    std::uint64_t held_back_ = 0;
};

}  // namespace tallow::runtime
