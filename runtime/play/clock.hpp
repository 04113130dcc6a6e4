// Time, as the player sees it. Tests bring their own.
#pragma once

#include <cstdint>
#include <memory>

namespace tallow::runtime {

class Clock {
  public:
    virtual ~Clock() = default;
    // Nanoseconds from some beginning; never goes back.
    virtual std::uint64_t now() = 0;
    // Comes back at `until`, or before it when a signal came.
    virtual void wait(std::uint64_t until) = 0;
};

std::unique_ptr<Clock> system_clock();

}  // namespace tallow::runtime
