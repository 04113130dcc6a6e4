// Timecode as it comes in, made steady: what the show is told of it.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "runtime/control/trigger.hpp"
#include "runtime/play/intercom.hpp"

namespace tallow::runtime {

// The code that was told last runs on in the show's keeping, whether it goes by it or not (performance.hpp).
// It is told anew only
// - of a place: where frames, twice in turn and running forwards, lie more than `tolerance` frames from that
//   code, and at the first such two;
// - of drift: where that code is half a frame off on average. That waits while a cue's code lies between the
//   two, so that no cue is started twice or left out;
// - to stop: when timecode stands still or runs backwards, and, without `run_on`, when it is lost. A full
//   frame puts the lists to its place, and stops there until frames run.
// A rate other than the show's is taken by time: an hour of labels is an hour.
class TimecodeChase {
  public:
    static constexpr std::int64_t tolerance = 2;         // frames
    static constexpr std::uint64_t lost_ns = 500000000;  // without a frame that is believed

    // `run_on`: when timecode is lost the show runs on by itself; else its timecode stops.
    TimecodeChase(const Roll& roll, bool run_on);
    // Another roll is played from here on, which keeps the code that was told.
    void set_roll(const Roll& roll);

    struct Found {
        std::vector<Order> orders;         // for the show, in this order; of `tape` and `tape_lost`
        std::vector<std::string> notices;  // for people
    };
    // A frame that was read at `ns`. Times never go back.
    Found take(std::uint64_t ns, const TimecodeFrame& frame);
    // Nothing has come up to `ns`.
    Found pass(std::uint64_t ns);
    // When pass() has something to say next, if nothing comes before; nothing: never.
    std::optional<std::uint64_t> due() const;

  private:
    struct Place {
        std::uint64_t ns = 0;
        std::int64_t code = 0;  // ticks since frame 0
    };
    std::int64_t at(const Place& place, std::uint64_t ns) const;
    bool cue_between(std::int64_t a, std::int64_t b) const;
    void tell(Found& found, const Place& place);
    void stop(Found& found, std::uint64_t ns);
    void follow(Found& found, const Place& now, std::int64_t frame_ticks);
    void seek(Found& found, const Place& now, std::int64_t frame_ticks);
    void compare_rate(Found& found, TimecodeRate rate);

    std::uint32_t refresh_ = 0;
    TimecodeRate rate_ = TimecodeRate::f25;
    bool run_on_;
    std::vector<std::int64_t> cues_;  // their codes, sorted
    std::optional<Place> told_;       // which runs on
    std::optional<Place> seen_;       // a place that was seen once
    std::int64_t drift_ = 0;          // of the timecode from that, on average; sixteenths of a tick
    std::uint64_t believed_ns_ = 0;   // when the last frame came that was there
    bool lost_ = false;
    bool other_rate_ = false;  // has been said
};

}  // namespace tallow::runtime
