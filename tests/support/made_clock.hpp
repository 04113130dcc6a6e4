// Time that passes only when someone waits, or works; and what is to happen at its times.
#pragma once

#include <cstdint>
#include <functional>
#include <utility>
#include <vector>

#include "runtime/play/clock.hpp"

namespace tallow::test {

class MadeClock : public runtime::Clock {
  public:
    std::uint64_t now() override { return now_; }
    void wait(std::uint64_t until) override {
        for (; next_ < orders_.size() && orders_[next_].first <= until; ++next_) orders_[next_].second();
        if (until > now_) now_ = until + oversleeps_;
    }
    void work(std::uint64_t ns) { now_ += ns; }
    void oversleep(std::uint64_t ns) { oversleeps_ = ns; }
    // In growing order.
    void at(std::uint64_t after_now, std::function<void()> what) {
        orders_.emplace_back(now_ + after_now, std::move(what));
    }

  private:
    std::uint64_t now_ = 12345678901, oversleeps_ = 0;
    std::vector<std::pair<std::uint64_t, std::function<void()>>> orders_;
    std::size_t next_ = 0;
};

}  // namespace tallow::test
