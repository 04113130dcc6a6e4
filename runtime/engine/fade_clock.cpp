#include "runtime/engine/fade_clock.hpp"

#include "runtime/engine/wide.hpp"

namespace tallow::runtime {
namespace {

constexpr std::uint64_t one = std::uint64_t{1} << 30;  // Q2.30

constexpr Weight to_weight(std::uint64_t q30) {
    return static_cast<Weight>((q30 + (1u << 13)) >> 14);
}
constexpr std::uint64_t product(std::uint64_t a, std::uint64_t b) {
    return (a * b + one / 2) >> 30;
}

std::uint64_t progress(const FadeTime& fade, Tick t) {
    if (t < fade.start) return 0;
    const Tick elapsed = t - fade.start;
    if (elapsed >= fade.duration) return one;
    return static_cast<std::uint64_t>(((UnsignedWide{elapsed} << 30) + fade.duration / 2) / fade.duration);
}

}  // namespace

FadeWeight weigh(const FadeTime& fade, Tick t) {
    const std::uint64_t p = progress(fade, t);
    switch (fade.curve) {
        case Curve::linear:
            return {to_weight(p), to_weight(p)};
        case Curve::ease: {
            const Weight w = to_weight(product(product(p, p), 3 * one - 2 * p));
            return {w, w};
        }
        case Curve::visual:
            return {to_weight(product(p, p)), to_weight(one - product(one - p, one - p))};
    }
    return {};
}

FadeClocks::FadeClocks(std::size_t parameters)
    : fade_(parameters),
      holders_(parameters),
      complete_(parameters),
      weight_(2 * parameters),
      place_(parameters) {
    live_.reserve(parameters);
    free_.reserve(parameters);
    for (std::size_t clock = parameters; clock-- > 0;) free_.push_back(static_cast<std::uint32_t>(clock));
}

std::uint32_t FadeClocks::add(const FadeTime& fade) {
    const std::uint32_t clock = free_.back();
    free_.pop_back();
    place_[clock] = static_cast<std::uint32_t>(live_.size());
    live_.push_back(clock);
    fade_[clock] = fade;
    holders_[clock] = 0;
    complete_[clock] = 0;
    return clock;
}

void FadeClocks::release(std::uint32_t lane) {
    const std::uint32_t clock = lane / 2;
    if (--holders_[clock] > 0) return;
    const std::uint32_t last = live_.back();
    live_[place_[clock]] = last;
    place_[last] = place_[clock];
    live_.pop_back();
    free_.push_back(clock);
}

bool FadeClocks::weigh_all(Tick t) {
    bool any = false;
    for (const std::uint32_t clock : live_) {
        const FadeTime& fade = fade_[clock];
        const FadeWeight w = weigh(fade, t);
        weight_[std::size_t{2} * clock] = w.rising;
        weight_[std::size_t{2} * clock + 1] = w.falling;
        complete_[clock] = t >= fade.start && t - fade.start >= fade.duration;
        any = any || complete_[clock];
    }
    return any;
}

}  // namespace tallow::runtime
