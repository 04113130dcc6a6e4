// The player: frames from a source to outputs, each at its own absolute time.
#pragma once

#include <cstdint>
#include <functional>
#include <limits>
#include <memory>
#include <vector>

#include "runtime/output/output.hpp"
#include "runtime/play/clock.hpp"
#include "runtime/play/intercom.hpp"
#include "runtime/play/source.hpp"

namespace tallow::runtime {

struct PlayOptions {
    static constexpr std::uint64_t open_end = std::numeric_limits<std::uint64_t>::max();
    std::uint64_t from = 0;          // the first frame
    std::uint64_t until = open_end;  // the frame after the last
    bool fast = false;               // do not wait for any frame's time, and take no orders
    // The time of frame `from` by the clock, 0: at once. Frames of which the time is over then are not
    // played.
    std::uint64_t start_ns = 0;
    bool stays = false;  // goes on at rest, though no orders can come any more
    // Called with each thing that happens, on this thread, in the tick. Without it that goes into the line.
    std::function<void(const Event&)> tell;
};
inline constexpr std::uint64_t late_ns = 2000000;

// What plays.
struct Piece {
    std::unique_ptr<Source> source;
    std::vector<std::unique_ptr<Output>> outputs;
};

// Plays from frame `from` on. Frame n goes out at start + (n − from)/refresh seconds, computed from n, so
// that nothing adds up. Orders are obeyed in the frame after they came, as of the time when they came. It
// ends
// - with the source's last frame, at `until`, when asked to quit;
// - without `until` and `stays`, when no orders can come any more and the source is at rest. Then it ends the
// stream three times, a frame apart, if it has begun, and finishes the outputs. Fails with the first output
// that fails. Where the source, the outputs and `tell` do not, it allocates nothing, takes no lock and does
// no I/O but to wait for the clock. An exchange turns to the new source's line: what comes behind it through
// the old one is not heard.
Result<PlayCounts> play(Piece& piece, Clock& clock, Intercom& intercom, const PlayOptions& options);

}  // namespace tallow::runtime
