// What passes between the clock's thread, which plays, and the operator's, which hears and shows: without
// locks, so that neither waits for the other.
#pragma once

#include <atomic>
#include <cstdint>

#include "runtime/engine/standing.hpp"
#include "runtime/play/event.hpp"
#include "runtime/play/latest.hpp"
#include "runtime/play/ring.hpp"
#include "runtime/play/tape_use.hpp"

namespace tallow::runtime {

struct Exchange;

// A command, and when it came by the player's clock; or another source that is to play.
struct Order {
    std::uint64_t ns = 0;
    Command command;
    Exchange* exchange = nullptr;  // not null: that, in place of the command
};

struct PlayCounts {
    std::uint64_t frames = 0;   // sent
    std::uint64_t late = 0;     // of these, sent more than late_ns after their time
    std::uint64_t dropped = 0;  // left out, because the next one was due already
    bool operator==(const PlayCounts&) const = default;
};

// How far the playing is.
struct Progress {
    Standing show;  // empty for a frames file
    bool paused = false;
    TapeUse tape = TapeUse::followed;
    std::uint64_t frame = 0;  // the last one that was sent
    std::uint64_t ns = 0;     // when that was due by the player's clock; 0 before the first
    PlayCounts counts;

    // For how long it has been so, in nanoseconds; 0 while nothing was sent yet.
    std::uint64_t age(std::uint64_t now) const { return ns == 0 || now < ns ? 0 : now - ns; }
};

// What passes while one source plays. All of it is said in the indices of that source's roll, so another
// source that comes brings a line of its own.
struct Line {
    // `first` is of the size that all later ones have.
    explicit Line(const Progress& first = {}) : progress(first) {}

    Ring<Order, 256> orders;    // to the clock's thread
    Ring<Event, 1024> heard;    // from it; what does not fit is not heard
    Latest<Progress> progress;  // from it
};

// The line of the first source, and what is the same for all.
struct Intercom : Line {
    using Line::Line;

    std::atomic<bool> quit{false};    // asks the clock's thread to end; a signal handler may set this
    std::atomic<bool> closed{false};  // no orders can come any more
};

}  // namespace tallow::runtime
