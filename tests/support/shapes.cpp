#include "tests/support/shapes.hpp"

#include <cmath>

namespace tallow::test {
namespace {

using runtime::Level;
using runtime::Waveform;

constexpr long double turn = 6.283185307179586476925286766559005768L;

// FORMATS.md, "Flicker", written again from its text.
std::uint64_t stir(std::uint64_t z) {
    z ^= z >> 30;
    z *= 0xbf58476d1ce4e5b9u;
    z ^= z >> 27;
    z *= 0x94d049bb133111ebu;
    return z ^ (z >> 31);
}
long double noise_at(std::uint64_t seed, std::uint64_t member, std::uint64_t whole_turns) {
    const std::uint64_t step = 0x9e3779b97f4a7c15u;
    const std::uint64_t own = stir(seed + step * (member + 1));
    return static_cast<long double>(stir(own + step * (whole_turns + 1)) >> 48) / 65535.0L;
}

long double triangle(long double f) {
    if (f < 0.25L) return 0.5L + 2 * f;
    return f < 0.75L ? 1.5L - 2 * f : 2 * f - 1.5L;
}

Waveform segments(std::vector<Waveform::Segment> list) {
    return {Waveform::Shape::segments, std::move(list), 0};
}

constexpr std::uint64_t quarter = std::uint64_t{1} << 62;

}  // namespace

Waveform Shape::waveform() const {
    switch (form) {
        case Form::sine:
            return {};
        case Form::flicker:
            return {Waveform::Shape::flicker, {}, seed};
        case Form::triangle:
            return segments({{0, 32768, 65535}, {quarter, 65535, 0}, {3 * quarter, 0, 32768}});
        case Form::rise:
            return segments({{0, 0, 65535}});
        case Form::fall:
            return segments({{0, 65535, 0}});
        case Form::square:
            return segments({{0, 65535, 65535}, {duty.phase(), 0, 0}});
        case Form::points:
            break;
    }
    std::vector<Waveform::Segment> list;
    for (std::size_t i = 0; i < points.size(); ++i)
        list.push_back({points[i].at.phase(), points[i].value, points[(i + 1) % points.size()].value});
    return segments(std::move(list));
}

long double Shape::at(Rational phase, std::uint32_t member) const {
    const Rational f = phase.fraction();
    switch (form) {
        case Form::sine:
            return 0.5L + 0.5L * std::sin(turn * f.real());
        case Form::triangle:
            return triangle(f.real());
        case Form::rise:
            return f.real();
        case Form::fall:
            return 1 - f.real();
        case Form::square:
            return f < duty ? 1 : 0;
        case Form::flicker: {
            const auto whole = static_cast<std::uint64_t>(phase.floor());
            return noise_at(seed, member, whole) * (1 - f.real()) +
                   noise_at(seed, member, whole + 1) * f.real();
        }
        case Form::points:
            break;
    }
    std::size_t i = points.size() - 1;
    while (f < points[i].at) --i;
    const Rational end = i + 1 < points.size() ? points[i + 1].at : Rational(1);
    const long double way = (f - points[i].at).real() / (end - points[i].at).real();
    const Level from = points[i].value, to = points[(i + 1) % points.size()].value;
    return (from * (1 - way) + to * way) / 65535.0L;
}

}  // namespace tallow::test
