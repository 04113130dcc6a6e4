// Fade clocks: where each running fade stands at a tick.
#pragma once

#include <cstdint>
#include <vector>

#include "runtime/roll/roll.hpp"

namespace tallow::runtime {

// When a fade begins, how long it takes (ticks; 0 jumps at its start) and along which curve.
struct FadeTime {
    Tick start = 0, duration = 0;
    Curve curve = Curve::linear;
};

// How far a rising and a falling value are on their way; they part only on the visual curve.
struct FadeWeight {
    Weight rising = 0, falling = 0;
};

// p = clamp((t − start)/duration, 0, 1) in Q2.30, one absolute division, then the curve: linear p; ease p²(3
// − 2p); visual p² rising, 1 − (1 − p)² falling. Within 1 of 65536; 0 and 65536 exactly at and beyond the
// ends.
FadeWeight weigh(const FadeTime& fade, Tick t);

// The clocks that run. A lane is a clock and a direction: its weight is what a parameter that holds it is
// blended with. Each clock is held by one parameter at least, so a pool as large as the rig never runs out;
// nothing is allocated.
class FadeClocks {
  public:
    static constexpr std::uint32_t no_lane = 0xffffffffu;

    explicit FadeClocks(std::size_t parameters);

    // A new clock, held by nobody yet: hold one of its lanes before anything else is added.
    std::uint32_t add(const FadeTime& fade);
    // The lane of a clock for a direction; both are one unless the curve tells them apart.
    std::uint32_t lane(std::uint32_t clock, bool falling) const {
        return 2 * clock + (falling && fade_[clock].curve == Curve::visual ? 1 : 0);
    }
    void hold(std::uint32_t lane) { ++holders_[lane / 2]; }
    void release(std::uint32_t lane);

    // Sets every lane's weight for tick t; true when a clock is complete.
    bool weigh_all(Tick t);
    bool complete(std::uint32_t lane) const { return complete_[lane / 2]; }
    const Weight* weights() const { return weight_.data(); }  // by lane

  private:
    std::vector<FadeTime> fade_;
    std::vector<std::uint32_t> holders_;
    std::vector<std::uint8_t> complete_;
    std::vector<Weight> weight_;
    std::vector<std::uint32_t> live_, place_, free_;  // place_: where a clock stands in live_
};

}  // namespace tallow::runtime
