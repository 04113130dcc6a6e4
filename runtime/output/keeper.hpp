// Keeps one output open and fed: what the thread of an output does, step by step, without a thread.
#pragma once

#include <cstdint>
#include <functional>
#include <memory>
#include <mutex>
#include <optional>
#include <string>

#include "runtime/output/frame_ring.hpp"
#include "runtime/output/output.hpp"
#include "runtime/status.hpp"

namespace tallow::runtime {

// How an output is looked after. Times are nanoseconds.
struct Supervision {
    bool every_frame = true;  // false: of several that wait only the latest goes out, as suits a slow line
    bool retry = true;        // false: the first failure is the last, as suits a file
    std::uint64_t repeat_after = 0;  // the last frame goes out again when none has for so long; 0 for never
    std::uint64_t first_pause = 250000000;     // before it is tried again; doubled for each further time,
    std::uint64_t longest_pause = 5000000000;  // up to this
};

// How an output does. Times are nanoseconds, as monotonic_now() tells them.
struct OutputHealth {
    enum class State : std::uint8_t {
        opening,  // nothing has gone out yet, and nothing has failed
        works,
        down,      // it failed, and is tried again
        failed,    // it failed, and is not tried again
        finished,  // everything is on its way or on the disk
    };
    State state = State::opening;
    std::uint64_t since = 0;  // when this state began
    std::string why = {};     // the last failure, while down or failed
    unsigned tries = 0;       // in a row that failed
    std::optional<std::uint64_t> next_try = {};
    std::optional<std::uint64_t> busy_since = {};  // a call of the output that has not come back
    std::uint64_t sent = 0;                        // frames, each once
    std::uint64_t dropped = 0;  // frames that did not go out, for want of time or of the output
};

class Keeper {
  public:
    Keeper(OpenOutput open, const Supervision& how, FrameRing& ring,
           std::function<std::uint64_t()> now = monotonic_clock());

    static constexpr std::uint64_t at_once = 0;
    // Does what is due: opens the output, tries again, or sends one frame. When to be called again at the
    // latest (at_once: there is more to do); a new frame is a reason to call earlier.
    std::uint64_t step();
    // Lets the output finish; the keeper is not called again. What it came to: the failure that it ends with.
    Status finish();

    // For any thread.
    OutputHealth health() const;

  private:
    static std::function<std::uint64_t()> monotonic_clock();
    bool failed_before() const { return next_try_ != 0; }
    std::uint64_t step_closed();
    void skip_to_latest();
    bool open();
    bool pick();
    void let_go();
    std::uint64_t send();
    std::uint64_t repeats_at() const;
    void close();
    void fail(const Status& status);
    template <class Call>
    auto busy(Call call);

    const OpenOutput open_;
    const Supervision how_;
    FrameRing& ring_;
    const std::function<std::uint64_t()> now_;
    std::unique_ptr<Output> output_;
    bool done_ = false;   // with the ring's first: it stays there until another one comes
    bool again_ = false;  // send it all the same, if nothing newer waits: the output is back
    std::uint64_t pause_;
    std::uint64_t next_try_ = 0;
    std::uint64_t sent_at_ = 0;
    mutable std::mutex mutex_;  // over health_, never held during a call of the output
    OutputHealth health_;
};

}  // namespace tallow::runtime
