#include "compiler/colour/temperature.hpp"

#include <cstddef>

#include "compiler/colour/observer.hpp"

namespace tallow::colour {
namespace {

// e^x for x in 0..64, to about 1e-14 of its value: the Taylor series of x/64, squared six times. Own, because
// the library's last bits differ between machines.
double e_to(double x) {
    const double part = x / 64;
    double sum = 1;
    for (int n = 18; n >= 1; --n) sum = 1 + sum * part / n;
    for (int square = 0; square < 6; ++square) sum *= sum;
    return sum;
}

}  // namespace

Chromaticity planckian_locus(double kelvin) {
    constexpr double c2 = 1.4388e-2 * 1e6;  // µm·K
    double x = 0, y = 0, z = 0;
    for (std::size_t n = 0; n < observer.size(); ++n) {
        const double micrometres = (observer_start_nm + observer_step_nm * static_cast<double>(n)) / 1000;
        const double square = micrometres * micrometres;
        const double power = 1 / (square * square * micrometres * (e_to(c2 / (micrometres * kelvin)) - 1));
        x += power * observer[n].x;
        y += power * observer[n].y;
        z += power * observer[n].z;
    }
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
