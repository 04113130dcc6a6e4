#include "runtime/output/supervised.hpp"

#include <csignal>
#include <fmt/format.h>
#include <pthread.h>
#include <system_error>
#include <thread>

#include "runtime/duration.hpp"
#include "runtime/monotonic.hpp"
#include "runtime/output/bell.hpp"
#include "runtime/real_time.hpp"

namespace tallow::runtime {

struct SupervisedOutput::Shared {
    Shared(OpenOutput open, std::span<const Universe> universes, const Supervision& how)
        : ring(universes), keeper(std::move(open), how, ring) {}

    FrameRing ring;
    Keeper keeper;
    Bell work;                      // something was put in, or the end was asked for
    Bell done;                      // rings once, when the thread is at its end
    std::atomic<bool> ends{false};  // asked for
    Status end;                     // how it ended; written before `done`, read after it

    void run();
};

void SupervisedOutput::Shared::run() {
    (void)favour_this_thread(output_priority);  // where it is not allowed, the clock's thread says so
    for (;;) {
        const std::uint32_t seen = work.rings();
        const bool last = ends.load(std::memory_order_acquire);  // nothing is put in after it
        const std::uint64_t next = keeper.step();
        if (next == Keeper::at_once) continue;
        if (last) break;
        work.wait(seen, next);
    }
    end = keeper.finish();
    done.ring();
}

namespace {

// The thread that is made here hears no signals: they are for those that wait for them.
template <class Make>
void without_signals(Make make) {
    sigset_t all, before;
    ::sigfillset(&all);
    ::pthread_sigmask(SIG_SETMASK, &all, &before);
    try {
        make();
    } catch (...) {
        ::pthread_sigmask(SIG_SETMASK, &before, nullptr);
        throw;
    }
    ::pthread_sigmask(SIG_SETMASK, &before, nullptr);
}

}  // namespace

Result<std::unique_ptr<SupervisedOutput>> SupervisedOutput::start(std::string name, OpenOutput open,
                                                                  std::span<const Universe> universes,
                                                                  const Supervision& how) {
    auto shared = std::make_shared<Shared>(std::move(open), universes, how);
    try {
        without_signals([&] { std::thread([shared] { shared->run(); }).detach(); });
    } catch (const std::system_error& error) {
        return Status::failure(fmt::format("cannot start a thread for {}: {}; check the limit on processes",
                                           name, error.code().message()));
    }
    return std::unique_ptr<SupervisedOutput>(new SupervisedOutput(std::move(name), std::move(shared)));
}

SupervisedOutput::SupervisedOutput(std::string name, std::shared_ptr<Shared> shared)
    : name_(std::move(name)), shared_(std::move(shared)) {}

SupervisedOutput::~SupervisedOutput() {
    // Nobody is left to be told how it ended.
    if (!finished_) (void)finish();
}

void SupervisedOutput::offer(const Frame& frame) {
    if (shared_->ring.put(frame)) shared_->work.ring();
}

void SupervisedOutput::end(std::uint64_t number) {
    if (shared_->ring.put_end(number)) shared_->work.ring();
}

Status SupervisedOutput::finish(std::uint64_t wait_at_most) {
    finished_ = true;
    shared_->ends.store(true, std::memory_order_release);
    shared_->work.ring();
    shared_->done.wait(0, monotonic_now() + wait_at_most);
    if (shared_->done.rings() == 0)
        return Status::failure(
            fmt::format("{} did not come back within {}, and was left behind; check what "
                        "it is connected to",
                        name_, format_duration(wait_at_most / 1000000)));
    if (shared_->end.ok()) return {};
    return Status::failure(fmt::format("{} did not work at the end: {}", name_, shared_->end.why()));
}

OutputHealth SupervisedOutput::health() const {
    return shared_->keeper.health();
}

std::uint64_t hangs_for(const OutputHealth& health, std::uint64_t now) {
    const std::uint64_t since = health.busy_since.value_or(now);
    return now > since + second_ns ? now - since : 0;
}

}  // namespace tallow::runtime
