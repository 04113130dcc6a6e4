// Integer arithmetic that every output rests on: levels, blends, time. No floating point, so that the same
// show gives the same bytes on every machine.
#pragma once

#include <cstdint>

namespace tallow::runtime {

// A level: 0..65535 of full.
using Level = std::uint16_t;
inline constexpr Level full = 65535;
inline constexpr Level level_half = 32768;  // 50 %: floor(65535/2 + 1/2)

// Time in ticks of 1/(1000·refresh) s: a frame is 1000 ticks, a millisecond is `refresh` ticks.
using Tick = std::uint64_t;
inline constexpr Tick ticks_per_frame = 1000;
// Whole ticks in so many nanoseconds, at `refresh` frames a second.
constexpr Tick ticks_in(std::uint64_t ns, std::uint32_t refresh) {
    return ns * refresh / (1000000000 / ticks_per_frame);
}

// A phase in turns of 2⁻⁶⁴, wrapping.
using Phase = std::uint64_t;

// A position between two values: 0..65536, the latter being the whole way.
using Weight = std::uint32_t;
inline constexpr Weight whole = 65536;

// a at weight 0, b exactly at weight 65536, rounded to nearest between.
constexpr Level blend(Level a, Level b, Weight w) {
    // a·(65536−w) + b·w + 32768 stays under 2³²; written with one product, which wraps and comes back.
    return static_cast<Level>(((Weight{a} << 16) + (Weight{b} - Weight{a}) * w + 32768u) >> 16);
}

// The product of two levels as fractions of full, rounded to nearest.
constexpr Level scaled(Level a, Level b) {
    const std::uint32_t t = std::uint32_t{a} * b + 32768u;
    return static_cast<Level>((t + (t >> 16)) >> 16);
}

// The 8-bit slot of a 16-bit level: (w + 128) / 257, rounded down.
constexpr std::uint8_t narrow(Level w) {
    // The same, in 16 bits and without a product, so that many go side by side (a test compares all 65536).
    const auto scaled_down = static_cast<Level>(w - (w >> 8) - ((w >> 7) & 1) + 128);
    return static_cast<std::uint8_t>(scaled_down >> 8);
}

// The 16-bit level of an 8-bit slot.
constexpr Level widen(std::uint8_t slot) {
    return static_cast<Level>(slot * 257u);
}

}  // namespace tallow::runtime
