#include "runtime/play/clock.hpp"

#include "runtime/monotonic.hpp"

namespace tallow::runtime {
namespace {

class SystemClock : public Clock {
  public:
    std::uint64_t now() override { return monotonic_now(); }
    void wait(std::uint64_t until) override {
        const timespec at = as_timespec(until);
        ::clock_nanosleep(CLOCK_MONOTONIC, TIMER_ABSTIME, &at, nullptr);
    }
};

}  // namespace

std::unique_ptr<Clock> system_clock() {
    return std::make_unique<SystemClock>();
}

}  // namespace tallow::runtime
