// The player: frames from a source to outputs, each at its own absolute time.
#pragma once

#include <csignal>
#include <cstdint>
#include <functional>
#include <limits>
#include <memory>
#include <span>
#include <string_view>

#include "runtime/output/output.hpp"
#include "runtime/play/clock.hpp"
#include "runtime/play/source.hpp"

namespace tallow::runtime {

struct PlayOptions {
    static constexpr std::uint64_t open_end = std::numeric_limits<std::uint64_t>::max();
    std::uint64_t from = 0;          // the first frame
    std::uint64_t until = open_end;  // the frame after the last
    bool fast = false;               // do not wait for any frame's time, and take no commands
    int input = -1;                  // the descriptor that commands are read from, a line each; -1 for none
    const volatile std::sig_atomic_t* interrupted = nullptr;  // set from outside: ends as `quit` does
    std::function<void(std::string_view)> say;                // a line for the operator
};

struct PlayReport {
    std::uint64_t frames = 0;   // sent
    std::uint64_t late = 0;     // of these, sent more than late_ns after their time
    std::uint64_t dropped = 0;  // left out, because the next one was due already
};
inline constexpr std::uint64_t late_ns = 2000000;

// Plays from frame `from` on. Frame n goes out at start + (n − from)/refresh seconds, computed from n, so
// that nothing adds up. The commands are `go` (or an empty line), `back`, `stop` (holds what would start by
// itself) and `quit`. It ends
// - with the source's last frame, at `until`, by `quit`, by an interrupt;
// - without `until`, when no commands can come any more (the input has ended, or there is none) and the
// source is at rest. Then it ends the stream three times, a frame apart, and finishes the outputs. Fails with
// the first output that fails.
Result<PlayReport> play(Source& source, std::span<const std::unique_ptr<Output>> outputs, Clock& clock,
                        const PlayOptions& options);

}  // namespace tallow::runtime
