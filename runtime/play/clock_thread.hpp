// The thread that plays: at real-time priority and with its memory kept in place where that is allowed.
#pragma once

#include <atomic>
#include <optional>
#include <string>
#include <thread>
#include <vector>

#include "runtime/play/player.hpp"

namespace tallow::runtime {

class ClockThread {
  public:
    // Begins to play. All must outlive it. The operator's thread takes what happens from the line.
    ClockThread(Piece& piece, Clock& clock, Intercom& intercom, PlayOptions options);
    // Asks it to quit, and waits.
    ~ClockThread();
    ClockThread(const ClockThread&) = delete;
    ClockThread& operator=(const ClockThread&) = delete;

    // What the system did not allow (real_time.hpp): a sentence each.
    const std::vector<std::string>& refused() const { return refused_; }
    bool over() const { return over_.load(std::memory_order_acquire); }
    // Waits for the end. Once.
    Result<PlayCounts> finish();

  private:
    Intercom& intercom_;
    std::atomic<bool> over_{false};
    std::optional<Result<PlayCounts>> came_;
    std::vector<std::string> refused_;
    std::thread thread_;
};

}  // namespace tallow::runtime
