#include "runtime/real_time.hpp"

#include <cerrno>
#include <cstring>
#include <fmt/format.h>
#include <pthread.h>
#include <sched.h>
#include <sys/mman.h>
#include <sys/resource.h>

namespace tallow::runtime {
namespace {

// Whether all that a process may come to hold can be locked: with a limit, what it asks for later would be
// refused.
bool may_lock() {
    rlimit limit{};
    return ::getrlimit(RLIMIT_MEMLOCK, &limit) == 0 && limit.rlim_cur == RLIM_INFINITY;
}

}  // namespace

Status favour_this_thread(int priority) {
    const sched_param wanted{priority};
    const int error = ::pthread_setschedparam(::pthread_self(), SCHED_FIFO, &wanted);
    if (error == 0) return {};
    return Status::failure(fmt::format(
        "no real-time priority ({}): a busy machine may send frames late; `rtprio {}` for this user in "
        "/etc/security/limits.d allows it",
        std::strerror(error), clock_priority));
}

Status keep_memory_in_place() {
    if (!may_lock())
        return Status::failure(
            "memory is not locked: a machine short of it may send frames late; `memlock unlimited` for this "
            "user in /etc/security/limits.d allows it");
    if (::mlockall(MCL_CURRENT | MCL_FUTURE | MCL_ONFAULT) == 0) return {};
    return Status::failure(fmt::format(
        "memory is not locked ({}): a machine short of it may send frames late", std::strerror(errno)));
}

}  // namespace tallow::runtime
