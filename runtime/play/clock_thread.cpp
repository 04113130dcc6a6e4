#include "runtime/play/clock_thread.hpp"

#include <future>

#include "runtime/real_time.hpp"

namespace tallow::runtime {

ClockThread::ClockThread(Piece& piece, Clock& clock, Intercom& intercom, PlayOptions options)
    : intercom_(intercom) {
    std::promise<void> favoured;
    const std::future<void> is_favoured = favoured.get_future();
    thread_ = std::thread([this, &piece, &clock, &intercom, options = std::move(options),
                           favoured = std::move(favoured)]() mutable {
        for (const Status& s : {favour_this_thread(clock_priority), keep_memory_in_place()})
            if (!s.ok()) refused_.push_back(s.why());
        favoured.set_value();
        came_ = play(piece, clock, intercom, options);
        over_.store(true, std::memory_order_release);
    });
    is_favoured.wait();
}

ClockThread::~ClockThread() {
    intercom_.quit = true;
    if (thread_.joinable()) thread_.join();
}

Result<PlayCounts> ClockThread::finish() {
    thread_.join();
    return std::move(*came_);
}

}  // namespace tallow::runtime
