#include "runtime/play/clock.hpp"

#include <time.h>

namespace tallow::runtime {
namespace {

constexpr std::uint64_t second = 1000000000;

timespec as_timespec(std::uint64_t ns) {
    return {static_cast<time_t>(ns / second), static_cast<long>(ns % second)};
}

class SystemClock : public Clock {
  public:
    std::uint64_t now() override {
        timespec t{};
        ::clock_gettime(CLOCK_MONOTONIC, &t);
        return static_cast<std::uint64_t>(t.tv_sec) * second + static_cast<std::uint64_t>(t.tv_nsec);
    }
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
