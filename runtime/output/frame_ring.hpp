// Frames on their way from the clock's thread to an output's: the one puts in, the other looks at the first
// and lets go of it. Neither waits, locks or allocates.
#pragma once

#include <array>
#include <atomic>
#include <cstdint>
#include <span>

#include "runtime/output/frame_copy.hpp"
#include "runtime/output/output.hpp"

namespace tallow::runtime {

class FrameRing {
  public:
    static constexpr std::size_t frames = 5;  // the one that is going out, and four that wait
    static constexpr std::size_t ends = 3;    // always find room behind them

    struct Entry {
        Frame frame;
        bool end = false;  // the stream ends in the place of this frame, which has no slots of its own
        std::uint64_t dropped_before = 0;
    };

    explicit FrameRing(std::span<const Universe> universes) {
        for (Place& p : places_) {
            p.copy.make_room(universes);
            p.entry.frame.slots = p.copy.slots();
        }
    }
    FrameRing(const FrameRing&) = delete;
    FrameRing& operator=(const FrameRing&) = delete;

    // Putting in. False when there is no room; a frame is then dropped, and counted. What `frame` holds is
    // copied, a universe's slots as far as they were announced.
    bool put(const Frame& frame) {
        Place* place = room(frames);
        if (!place) return dropped_.fetch_add(1, std::memory_order_release), false;
        place->copy.fill(frame.slots);
        return hand_over(*place, frame.number, false);
    }
    bool put_end(std::uint64_t number) {
        Place* place = room(frames + ends);
        return place && hand_over(*place, number, true);
    }

    // Taking out.
    std::size_t size() const {
        return end_.load(std::memory_order_acquire) - begin_.load(std::memory_order_relaxed);
    }
    const Entry& first() const {
        return places_[begin_.load(std::memory_order_relaxed) % places_.size()].entry;
    }
    void pop() { begin_.fetch_add(1, std::memory_order_release); }
    // Whether frames that came after this one were dropped: what it holds is old.
    bool stale(const Entry& entry) const { return !entry.end && entry.dropped_before != dropped(); }

    // For any thread.
    std::uint64_t dropped() const { return dropped_.load(std::memory_order_acquire); }

  private:
    struct Place {
        Entry entry;
        FrameCopy copy;
    };

    Place* room(std::size_t most) {
        const std::size_t end = end_.load(std::memory_order_relaxed);
        if (end - begin_.load(std::memory_order_acquire) >= most) return nullptr;
        return &places_[end % places_.size()];
    }
    bool hand_over(Place& place, std::uint64_t number, bool end) {
        place.entry.frame.number = number;
        place.entry.end = end;
        place.entry.dropped_before = dropped_.load(std::memory_order_relaxed);
        end_.fetch_add(1, std::memory_order_release);
        return true;
    }

    std::array<Place, frames + ends> places_;
    alignas(64) std::atomic<std::size_t> begin_{0};
    alignas(64) std::atomic<std::size_t> end_{0};
    std::atomic<std::uint64_t> dropped_{0};
};

}  // namespace tallow::runtime
