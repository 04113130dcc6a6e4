#include "compiler/colour/temperature.hpp"

#include "compiler/colour/planck.hpp"

namespace tallow::colour {
Chromaticity planckian_locus(double kelvin) {
    const auto [x, y, z] = black_body(kelvin).light;
    return {x / (x + y + z), y / (x + y + z)};
}

Chromaticity daylight_locus(double kelvin) {
    const double t = 1000 / kelvin;  // kiloreciprocal, so that the coefficients stay as CIE 15 prints them
    const double x = kelvin <= 7000 ? ((-4.6070 * t + 2.9678) * t + .09911) * t + .244063
                                    : ((-2.0064 * t + 1.9018) * t + .24748) * t + .237040;
    return {x, (-3 * x + 2.870) * x - .275};
}

std::optional<Chromaticity> from_temperature(double kelvin) {
    if (!(kelvin >= kelvin_min && kelvin <= kelvin_max)) return std::nullopt;
    if (kelvin <= 4000) return planckian_locus(kelvin);
    if (kelvin >= 5000) return daylight_locus(kelvin);
    const Chromaticity p = planckian_locus(kelvin), d = daylight_locus(kelvin);
    const double share = (5000 - kelvin) / 1000;
    const double x = share * p.x / p.y + (1 - share) * d.x / d.y;  // X of the mix where Y is 1
    const double sum = share / p.y + (1 - share) / d.y;            // X + Y + Z
    return Chromaticity{x / sum, 1 / sum};
}

}  // namespace tallow::colour
