// How what a wave says meets the level beneath it.
#pragma once

#include <algorithm>
#include <cstdint>

#include "runtime/engine/integers.hpp"
#include "runtime/roll/roll.hpp"

namespace tallow::desk {

inline runtime::Level kept_level(std::int64_t value) {
    return static_cast<runtime::Level>(std::clamp<std::int64_t>(value, 0, runtime::full));
}

// Not kept within 0..full. An intensity scales it, a position moves it, all else takes its place.
inline std::int64_t met(runtime::Kind kind, runtime::Level beneath, std::int64_t value) {
    if (kind == runtime::Kind::intensity) return runtime::scaled(beneath, kept_level(value));
    return kind == runtime::Kind::position ? beneath + value : value;
}

struct WaveSpan {
    runtime::Level low, middle, high;
};

// Between which levels a wave with these ends takes it, and the middle, as a fade judges it
// (Stage::twice_middle).
inline WaveSpan wave_span(runtime::Kind kind, runtime::Level beneath, std::int64_t low, std::int64_t high) {
    const std::int64_t a = met(kind, beneath, low), b = met(kind, beneath, high);
    return {kept_level(std::min(a, b)), kept_level((a + b) / 2), kept_level(std::max(a, b))};
}

}  // namespace tallow::desk
