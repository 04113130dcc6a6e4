// An hour of a mixed show in 8 universes: cues some seconds apart that fade a part of the rig, a wave on
// another part now and then, and stillness; the same for the same seed.
#pragma once

#include "runtime/frames/frames.hpp"
#include "tests/support/random.hpp"

namespace tallow::bench {

inline constexpr std::size_t mixed_piece = 400;  // frames made at once

runtime::FramesInfo mixed_info();

class MixedFrames {
  public:
    explicit MixedFrames(std::uint64_t seed);
    const runtime::Bytes& next();  // the next mixed_piece frames, one after the other

  private:
    struct Fixture {
        double level = 0, from = 0, to = 0, delay = 0, time = 0;  // intensity, seconds
        double colour[3]{1, 1, 1}, colour_from[3]{1, 1, 1}, colour_to[3]{1, 1, 1};
        bool wave = false;
    };
    void begin_cue();
    void show(std::uint8_t* slots);

    test::Random random_;
    std::vector<Fixture> fixtures_;
    double time_ = 0, cue_ = 0, next_ = 0, period_ = 4, wavelength_ = 12;
    runtime::Bytes piece_;
};

}  // namespace tallow::bench
