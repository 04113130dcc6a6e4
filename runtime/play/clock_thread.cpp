#include "runtime/play/clock_thread.hpp"

#include <cerrno>
#include <cstring>
#include <fmt/format.h>
#include <future>
#include <pthread.h>
#include <sched.h>
#include <sys/mman.h>
#include <sys/resource.h>

namespace tallow::runtime {
namespace {

constexpr int priority = 20;  // of 1..99: above all ordinary work, below the kernel's own threads

// Whether all that a process may come to hold can be locked: with a limit, what it asks for later would be
// refused.
bool may_lock() {
    rlimit limit{};
    return ::getrlimit(RLIMIT_MEMLOCK, &limit) == 0 && limit.rlim_cur == RLIM_INFINITY;
}

}  // namespace

ClockThread::ClockThread(Piece& piece, Clock& clock, Intercom& intercom, PlayOptions options)
    : intercom_(intercom) {
    std::promise<void> favoured;
    const std::future<void> is_favoured = favoured.get_future();
    thread_ = std::thread([this, &piece, &clock, &intercom, options = std::move(options),
                           favoured = std::move(favoured)]() mutable {
        refused_ = favour_this_thread();
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

std::vector<std::string> favour_this_thread() {
    std::vector<std::string> refused;
    const sched_param wanted{priority};
    if (const int error = ::pthread_setschedparam(::pthread_self(), SCHED_FIFO, &wanted); error != 0)
        refused.push_back(fmt::format(
            "no real-time priority ({}): other work on this machine may make frames late; allow it with a "
            "limit on `rtprio` of {} or more for this user",
            std::strerror(error), priority));
    if (!may_lock())
        refused.emplace_back(
            "memory is not locked: on a machine that runs out of it frames may be late; allow it with an "
            "unlimited `memlock` for this user");
    else if (::mlockall(MCL_CURRENT | MCL_FUTURE | MCL_ONFAULT) != 0)
        refused.push_back(
            fmt::format("memory is not locked ({}): on a machine that runs out of it frames may "
                        "be late",
                        std::strerror(errno)));
    return refused;
}

}  // namespace tallow::runtime
