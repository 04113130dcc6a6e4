// Locks: this program's own pthread_mutex_lock and its kin count and pass on, so that one without a wait is
// seen, too. Calls: a seccomp filter over one thread sends it a signal in place of each.
#include "tests/support/tick_watch.hpp"

#include <atomic>
#include <cerrno>
#include <csignal>
#include <cstddef>
#include <dlfcn.h>
#include <linux/filter.h>
#include <linux/futex.h>
#include <linux/seccomp.h>
#include <pthread.h>
#include <sys/prctl.h>
#include <sys/syscall.h>
#include <ucontext.h>
#include <vector>

#include "tests/support/allocations.hpp"

namespace {

thread_local std::size_t locks = 0, calls = 0;
thread_local long last_call = -1;

#if !defined(__SANITIZE_THREAD__)  // which has its own in their place

// The system's own function of a name, looked up once.
template <class Lock>
int counted(std::atomic<int (*)(Lock*)>& own, const char* name, Lock* lock) {
    ++locks;
    auto* call = own.load(std::memory_order_relaxed);
    if (!call) {
        call = reinterpret_cast<int (*)(Lock*)>(::dlsym(RTLD_NEXT, name));
        own.store(call, std::memory_order_relaxed);
    }
    return call(lock);
}

constinit std::atomic<int (*)(pthread_mutex_t*)> own_lock{nullptr}, own_trylock{nullptr};
constinit std::atomic<int (*)(pthread_rwlock_t*)> own_rdlock{nullptr}, own_wrlock{nullptr};

#endif

}  // namespace

#if !defined(__SANITIZE_THREAD__)

extern "C" {
int pthread_mutex_lock(pthread_mutex_t* lock) noexcept {
    return counted(own_lock, "pthread_mutex_lock", lock);
}
int pthread_mutex_trylock(pthread_mutex_t* lock) noexcept {
    return counted(own_trylock, "pthread_mutex_trylock", lock);
}
int pthread_rwlock_rdlock(pthread_rwlock_t* lock) noexcept {
    return counted(own_rdlock, "pthread_rwlock_rdlock", lock);
}
int pthread_rwlock_wrlock(pthread_rwlock_t* lock) noexcept {
    return counted(own_wrlock, "pthread_rwlock_wrlock", lock);
}
}

#endif

namespace tallow::test {

Asked asked() {
    return {allocations(), locks, calls, last_call};
}

// Sanitizers make calls of their own, at the end of a thread among others.
#if defined(__x86_64__) && !defined(__SANITIZE_THREAD__) && !defined(__SANITIZE_ADDRESS__)

namespace {

void refuse(int, siginfo_t* info, void* context) {
    ++calls;
    last_call = info->si_syscall;
    // As if a signal had come: whoever waits looks again, whoever writes sees a failure.
    static_cast<ucontext_t*>(context)->uc_mcontext.gregs[REG_RAX] = -EINTR;
}

// What a thread needs to read clocks, to wait for a time, to handle a signal, and to end.
constexpr unsigned harmless[] = {SYS_clock_gettime, SYS_clock_nanosleep, SYS_rt_sigreturn, SYS_rt_sigprocmask,
                                 SYS_sigaltstack,   SYS_madvise,         SYS_munmap,       SYS_exit};

std::vector<sock_filter> filter() {
    constexpr unsigned number = offsetof(seccomp_data, nr), operation = offsetof(seccomp_data, args[1]);
    constexpr unsigned kind = ~static_cast<unsigned>(FUTEX_PRIVATE_FLAG | FUTEX_CLOCK_REALTIME);
    const sock_filter allow = BPF_STMT(BPF_RET | BPF_K, SECCOMP_RET_ALLOW);
    std::vector<sock_filter> program{BPF_STMT(BPF_LD | BPF_W | BPF_ABS, number)};
    for (const unsigned call : harmless) {
        program.push_back(BPF_JUMP(BPF_JMP | BPF_JEQ | BPF_K, call, 0, 1));
        program.push_back(allow);
    }
    program.push_back(BPF_JUMP(BPF_JMP | BPF_JEQ | BPF_K, SYS_futex, 0, 4));
    program.push_back(BPF_STMT(BPF_LD | BPF_W | BPF_ABS, operation));
    program.push_back(BPF_STMT(BPF_ALU | BPF_AND | BPF_K, kind));
    program.push_back(BPF_JUMP(BPF_JMP | BPF_JEQ | BPF_K, FUTEX_WAKE, 0, 1));
    program.push_back(allow);
    program.push_back(BPF_STMT(BPF_RET | BPF_K, SECCOMP_RET_TRAP));
    return program;
}

}  // namespace

bool guard_this_thread() {
    struct sigaction action {};
    action.sa_sigaction = refuse;
    action.sa_flags = SA_SIGINFO;
    std::vector<sock_filter> program = filter();
    const sock_fprog whole{static_cast<unsigned short>(program.size()), program.data()};
    return ::sigaction(SIGSYS, &action, nullptr) == 0 && ::prctl(PR_SET_NO_NEW_PRIVS, 1, 0, 0, 0) == 0 &&
           ::prctl(PR_SET_SECCOMP, SECCOMP_MODE_FILTER, &whole) == 0;
}

#else

bool guard_this_thread() {
    return false;
}

#endif

}  // namespace tallow::test
