#include "compiler/colour/planck.hpp"

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

void add(Tristimulus& sum, double power, const Response& eye) {
    sum.x += power * eye.x;
    sum.y += power * eye.y;
    sum.z += power * eye.z;
}

}  // namespace

BlackBody black_body(double kelvin) {
    constexpr double c2 = 1.4388e-2 * 1e6;  // µm·K
    BlackBody body{};
    for (std::size_t n = 0; n < observer.size(); ++n) {
        const double micrometres = (observer_start_nm + observer_step_nm * static_cast<double>(n)) / 1000;
        const double square = micrometres * micrometres;
        const double e = e_to(c2 / (micrometres * kelvin));
        const double power = 1 / (square * square * micrometres * (e - 1));
        add(body.light, power, observer[n]);
        // The exponent is c2/10⁶/µm for each mired, and 1/(e^x − 1) changes by −e^x/(e^x − 1)².
        add(body.change, -power * (e / (e - 1)) * (c2 / 1e6 / micrometres), observer[n]);
    }
    return body;
}

}  // namespace tallow::colour
