#include "runtime/engine/waveform.hpp"

#include <algorithm>
#include <array>
#include <bit>

namespace tallow::runtime {
namespace {

// A value of the sine table, 65536·256·(½ + ½·sin(2πi/1024)) rounded, and the step to the next: side by side,
// one look-up.
struct SinePoint {
    std::int32_t value, step;
};

// The first quarter comes from turning a unit vector by 2π/1024 in Q2.62, the rest by symmetry, so no entry
// depends on a machine's own sine.
constexpr std::array<SinePoint, 1024> make_sine_table() {
    constexpr Wide cosine = 4611599204741358747, sine = 28296773447188932;  // of 2π/1024, times 2⁶²
    constexpr Wide unit = Wide{1} << 62;
    constexpr std::int32_t half = 1 << 23;
    std::array<std::int32_t, 1025> value{};
    Wide x = unit, y = 0;
    for (std::size_t i = 0; i <= 256; ++i) {
        const auto swing = static_cast<std::int32_t>((std::min(y, unit) + (Wide{1} << 38)) >> 39);
        value[i] = value[512 - i] = half + swing;
        value[512 + i] = value[1024 - i] = half - swing;
        const Wide turned = (x * cosine - y * sine) >> 62;
        y = (x * sine + y * cosine) >> 62;
        x = turned;
    }
    std::array<SinePoint, 1024> table{};
    for (std::size_t i = 0; i < table.size(); ++i) table[i] = {value[i], value[i + 1] - value[i]};
    return table;
}
constexpr auto sine_table = make_sine_table();
static_assert(sine_table[0].value == 1 << 23 && sine_table[256].value == 1 << 24 &&
              sine_table[768].value == 0);

// `at`: a phase's highest 24 bits, 10 of the table and 14 between its entries.
constexpr Weight sine_at(std::uint32_t at) {
    const SinePoint point = sine_table[at >> 14];
    const std::int32_t way = (point.step * static_cast<std::int32_t>(at & 16383)) >> 14;
    return static_cast<Weight>((point.value + way + 128) >> 8);
}

constexpr std::uint32_t top_24_bits(Phase phase) {
    return static_cast<std::uint32_t>(phase >> 40);
}

// In two steps, of which the first can go on several rows at once.
void sine_rows(Phase phase, const Phase* __restrict offset, Weight* __restrict out, std::size_t count) {
    std::array<std::uint32_t, 256> at;
    for (std::size_t done = 0; done < count; done += at.size()) {
        const std::size_t n = std::min(at.size(), count - done);
        for (std::size_t i = 0; i < n; ++i) at[i] = top_24_bits(phase + offset[done + i]);
        for (std::size_t i = 0; i < n; ++i) out[done + i] = sine_at(at[i]);
    }
}

// The finaliser of splitmix64 (Steele, Lea, Flood, "Fast splittable pseudorandom number generators", 2014;
// constants of Stafford's variant 13; from memory, not re-read).
constexpr std::uint64_t mix(std::uint64_t z) {
    z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9u;
    z = (z ^ (z >> 27)) * 0x94d049bb133111ebu;
    return z ^ (z >> 31);
}
constexpr std::uint64_t golden = 0x9e3779b97f4a7c15u;  // 2⁶⁴ divided by the golden ratio, odd

// A level as a weight: 0 stays 0, full becomes the whole.
constexpr Weight as_weight(Level v) {
    return v + (Weight{v} >> 15);
}

// A phase is a sum of terms each rounded to within half a unit of 2⁻⁶⁴ turn, so a sum that meets an edge
// exactly could fall short of it by a few units. Times and offsets that differ at all differ by far more than
// this.
constexpr Turns slack = 32;

}  // namespace

Weight sine(Phase phase) {
    return sine_at(top_24_bits(phase));
}

Level noise(std::uint64_t seed, std::uint32_t member, std::uint64_t turn) {
    const std::uint64_t own = mix(seed + golden * (std::uint64_t{member} + 1));
    return static_cast<Level>(mix(own + golden * (turn + 1)) >> 48);
}

PreparedWaveform::PreparedWaveform(const Waveform& waveform) : shape_(waveform.shape), seed_(waveform.seed) {
    for (std::size_t i = 0; i < waveform.segments.size(); ++i) {
        const auto& s = waveform.segments[i];
        const Phase end =
            i + 1 < waveform.segments.size() ? waveform.segments[i + 1].start : 0;  // 0: the turn's end
        const UnsignedWide length =
            end == 0 ? (UnsignedWide{1} << 64) - s.start : UnsignedWide{end - s.start};
        // Lengths are brought to 32 bits, so that the product of a slope and a distance stays inside 64.
        const int bits = 64 - std::countl_zero(static_cast<std::uint64_t>(length - 1));
        const int shift = std::max(0, bits - 32);
        const std::int64_t from = (std::int64_t{s.from} * 65536 * 65536 + 32767) / 65535;
        const std::int64_t to = (std::int64_t{s.to} * 65536 * 65536 + 32767) / 65535;
        const Wide slope = (Wide{to - from} << 24) / static_cast<Wide>(length >> shift);
        lines_.push_back({s.start, from, static_cast<std::int64_t>(slope), shift});
    }
}

Weight PreparedWaveform::at(Phase phase) const {
    auto line = lines_.end() - 1;
    if (phase < line->start)
        line = std::upper_bound(lines_.begin(), line, phase,
                                [](Phase p, const Line& l) { return p < l.start; }) -
               1;
    const auto along = static_cast<std::int64_t>((phase - line->start) >> line->shift);
    return static_cast<Weight>((line->from + ((along * line->slope) >> 24) + 32768) >> 16);
}

Weight PreparedWaveform::flicker(Turns turns, std::uint32_t member) const {
    const auto turn = static_cast<std::uint64_t>(turns >> 64);
    const auto way = static_cast<Weight>((turns >> 48) & 65535);
    return as_weight(blend(noise(seed_, member, turn), noise(seed_, member, turn + 1), way));
}

void PreparedWaveform::evaluate(Turns turns, const Phase* __restrict offset,
                                const std::uint32_t* __restrict member, std::span<Weight> out) const {
    turns += slack;
    const auto phase = static_cast<Phase>(turns);
    Weight* const __restrict to = out.data();
    const std::size_t n = out.size();
    switch (shape_) {
        case Waveform::Shape::sine:
            sine_rows(phase, offset, to, n);
            break;
        case Waveform::Shape::segments:
            for (std::size_t i = 0; i < n; ++i) to[i] = at(phase + offset[i]);
            break;
        case Waveform::Shape::flicker:
            for (std::size_t i = 0; i < n; ++i) to[i] = flicker(turns + offset[i], member[i]);
            break;
    }
}

}  // namespace tallow::runtime
