#include "runtime/play/clock.hpp"

#include <poll.h>
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
    bool wait(std::uint64_t until, int input) override {
        if (input < 0) {
            const timespec at = as_timespec(until);
            ::clock_nanosleep(CLOCK_MONOTONIC, TIMER_ABSTIME, &at, nullptr);
            return false;
        }
        const std::uint64_t present = now();
        const timespec rest = as_timespec(until > present ? until - present : 0);
        pollfd poll{input, POLLIN, 0};
        return ::ppoll(&poll, 1, &rest, nullptr) > 0;
    }
};

}  // namespace

std::unique_ptr<Clock> system_clock() {
    return std::make_unique<SystemClock>();
}

}  // namespace tallow::runtime
