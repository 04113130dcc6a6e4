#include "compiler/colour/cct.hpp"

#include <array>
#include <cmath>
#include <cstddef>

#include "compiler/colour/temperature.hpp"

namespace tallow::colour {
namespace {

struct Uv60 {
    double u, v;
};

Uv60 to_uv60(Chromaticity c) {
    const Uv uv = to_uv(c);
    return {uv.u, uv.v * 2 / 3};
}

// The locus at every mired (a million by kelvin) from 40 on: 25 000 K to 1000 K.
constexpr int first_mired = 40;
using Locus = std::array<Uv60, 961>;

const Locus& locus() {
    static const Locus table = [] {
        Locus made;
        for (std::size_t i = 0; i < made.size(); ++i)
            made[i] = to_uv60(planckian_locus(1e6 / (first_mired + static_cast<double>(i))));
        return made;
    }();
    return table;
}

double square_distance(Uv60 a, Uv60 b) {
    return (a.u - b.u) * (a.u - b.u) + (a.v - b.v) * (a.v - b.v);
}

}  // namespace

// The square of the distance is nearly a parabola over three neighbours: its lowest point lies between them.
std::optional<Cct> cct(Chromaticity c) {
    const Uv60 at = to_uv60(c);
    const Locus& table = locus();
    std::size_t nearest = 0;
    for (std::size_t i = 1; i < table.size(); ++i)
        if (square_distance(at, table[i]) < square_distance(at, table[nearest])) nearest = i;
    if (nearest == 0 || nearest + 1 == table.size()) return std::nullopt;
    const double before = square_distance(at, table[nearest - 1]), here = square_distance(at, table[nearest]),
                 after = square_distance(at, table[nearest + 1]);
    const double step = (before - after) / (2 * (before - 2 * here + after));
    const double kelvin = 1e6 / (first_mired + static_cast<double>(nearest) + step);
    const Uv60 foot = to_uv60(planckian_locus(kelvin));
    const double away = std::sqrt(square_distance(at, foot));
    if (away > .05) return std::nullopt;
    return Cct{kelvin, at.v < foot.v ? -away : away};
}

}  // namespace tallow::colour
