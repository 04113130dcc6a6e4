// An output on a thread of its own, so that it stops neither the clock nor the other outputs when it fails or
// hangs; and it comes back by itself.
#pragma once

#include <cstdint>
#include <memory>
#include <span>
#include <string>

#include "runtime/output/keeper.hpp"

namespace tallow::runtime {

class SupervisedOutput {
  public:
    // `name` is for people ("E1.31 multicast on eth0"). The output is opened on its thread, again and again
    // if need be: what starts here works when the output cannot be reached. Fails when there is no thread.
    static Result<std::unique_ptr<SupervisedOutput>> start(std::string name, OpenOutput open,
                                                           std::span<const Universe> universes,
                                                           const Supervision& how = {});
    // Lets go of an output that was not finished as finish() does.
    ~SupervisedOutput();
    SupervisedOutput(const SupervisedOutput&) = delete;
    SupervisedOutput& operator=(const SupervisedOutput&) = delete;

    // From the clock's thread, in growing order, the universes as they were announced. They copy what they
    // are given, and neither wait, lock nor allocate. What finds no room is dropped and counted; the end of
    // the stream, three times, always has room.
    void offer(const Frame& frame);
    void end(std::uint64_t number);

    static constexpr std::uint64_t patience = 2000000000;
    // Ends the thread once everything that was offered has gone out, or at once while the output does not
    // work. Waits so many nanoseconds; an output that hangs longer is left behind with its thread. Fails,
    // naming the output, when it did not end well. Called once, and nothing is offered after it.
    Status finish(std::uint64_t wait_at_most = patience);

    // From any thread.
    OutputHealth health() const;
    const std::string& name() const { return name_; }

  private:
    struct Shared;
    SupervisedOutput(std::string name, std::shared_ptr<Shared> shared);

    std::string name_;
    std::shared_ptr<Shared> shared_;  // with the thread, which may outlive this
    bool finished_ = false;
};

// For how many nanoseconds an output has hung by `now`: in a call that takes over a second; 0 when it does
// not hang.
std::uint64_t hangs_for(const OutputHealth& health, std::uint64_t now);

}  // namespace tallow::runtime
