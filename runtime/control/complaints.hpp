// Complaints of one way in, held back when there are too many, so that nobody floods the operator.
#pragma once

#include <cstdint>
#include <fmt/format.h>
#include <optional>
#include <string>
#include <string_view>
#include <utility>

#include "runtime/control/trigger.hpp"
#include "runtime/monotonic.hpp"

namespace tallow::runtime {

struct ComplaintLimits {
    unsigned at_once = 5;  // of each `while_ns`
    std::uint64_t while_ns = second_ns;
    std::uint64_t same_ns = 0;  // so long the one that was told last is not told again
};

class Complaints {
  public:
    Complaints() = default;
    explicit Complaints(const ComplaintLimits& limits) : limits_(limits) {}

    // What is to be told of a complaint: nothing where it is held back; the next one after those says how
    // many were.
    std::optional<std::string> pass(std::uint64_t ns, std::string_view why) {
        if (ns - since_ >= limits_.while_ns || since_ == 0) {
            since_ = ns;
            told_ = 0;
        }
        if (told_ == limits_.at_once || (why == latest_ && ns - latest_ns_ < limits_.same_ns)) {
            ++held_back_;
            return {};
        }
        ++told_;
        latest_ = why;
        latest_ns_ = ns;
        const std::uint64_t before = std::exchange(held_back_, 0);
        if (before == 0) return latest_;
        return fmt::format("{} ({} more before this were left out)", why, before);
    }
    void tell(std::uint64_t ns, Listener& listener, std::string_view from, std::string_view why) {
        if (const auto told = pass(ns, why)) listener.complaint(from, *told);
    }

  private:
    ComplaintLimits limits_;
    std::uint64_t since_ = 0;
    unsigned told_ = 0;
    std::string latest_;
    std::uint64_t latest_ns_ = 0;
    std::uint64_t held_back_ = 0;
};

}  // namespace tallow::runtime
