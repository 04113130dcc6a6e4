#include "tests/bench/mixed_frames.hpp"

#include <algorithm>
#include <cmath>

namespace tallow::bench {
namespace {

constexpr std::size_t universes = 8, slots = 512, cells = 3;
constexpr double refresh = 40;

double way(double t, double time) {
    return time <= 0 ? 1 : std::clamp(t / time, 0.0, 1.0);
}

}  // namespace

runtime::FramesInfo mixed_info() {
    runtime::FramesInfo info;
    for (std::uint16_t u = 1; u <= universes; ++u) info.universes.push_back({u, slots});
    return info;
}

MixedFrames::MixedFrames(std::uint64_t seed)
    : random_(seed), fixtures_(universes * slots / cells), piece_(mixed_piece * universes * slots) {}

// About a third of the rig, by groups of a dozen, takes a new level, and half of these a new colour.
void MixedFrames::begin_cue() {
    const double time = static_cast<double>(random_.below(80)) / 10;
    const bool wave = random_.below(3) == 0;
    cue_ = time_;
    next_ = time_ + time + static_cast<double>(random_.below(300)) / 10;
    period_ = 2 + static_cast<double>(random_.below(60)) / 10;
    for (std::size_t i = 0; i < fixtures_.size(); ++i) {
        static constexpr std::size_t group = 12;
        if (i % group == 0 && random_.below(3) != 0) {
            i += group - 1;
            continue;
        }
        Fixture& f = fixtures_[i];
        if (i % group == 0) {
            f.to = static_cast<double>(random_.below(21)) / 20;
            f.wave = wave && random_.below(2) == 0;
            for (double& c : f.colour_to)
                c = random_.below(2) == 0 ? static_cast<double>(random_.below(256)) / 255 : c;
        } else {
            f.to = fixtures_[i - 1].to;
            f.wave = fixtures_[i - 1].wave;
            std::copy(std::begin(fixtures_[i - 1].colour_to), std::end(fixtures_[i - 1].colour_to),
                      f.colour_to);
        }
        f.from = f.level;
        std::copy(std::begin(f.colour), std::end(f.colour), f.colour_from);
        f.time = time;
    }
}

void MixedFrames::show(std::uint8_t* out) {
    for (std::size_t i = 0; i < fixtures_.size(); ++i) {
        Fixture& f = fixtures_[i];
        const double p = way(time_ - cue_ - f.delay, f.time);
        f.level = f.from + (f.to - f.from) * p;
        double light = f.level;
        if (f.wave)
            light *= .5 + .5 * std::sin(6.283185307179586 *
                                        (time_ / period_ - static_cast<double>(i) / wavelength_));
        for (std::size_t c = 0; c < cells; ++c) {
            f.colour[c] = f.colour_from[c] + (f.colour_to[c] - f.colour_from[c]) * p;
            out[i * cells + c] = static_cast<std::uint8_t>(255 * light * f.colour[c] + .5);
        }
    }
}

const runtime::Bytes& MixedFrames::next() {
    for (std::size_t n = 0; n < mixed_piece; ++n, time_ += 1 / refresh) {
        if (time_ >= next_) begin_cue();
        show(piece_.data() + n * universes * slots);
    }
    return piece_;
}

}  // namespace tallow::bench
