#include "compiler/colour/chromaticity.hpp"

#include <cmath>

namespace tallow::colour {

bool valid(Chromaticity c) {
    return c.x >= 0 && c.y > 0 && c.x + c.y <= 1 + 1e-9;
}

Uv to_uv(Chromaticity c) {
    const double d = -2 * c.x + 12 * c.y + 3;
    return {4 * c.x / d, 9 * c.y / d};
}

Chromaticity to_xy(Uv c) {
    const double d = 6 * c.u - 16 * c.v + 12;
    return {9 * c.u / d, 4 * c.v / d};
}

double distance_uv(Uv a, Uv b) {
    const double u = a.u - b.u, v = a.v - b.v;
    return std::sqrt(u * u + v * v);
}

double distance_uv(Chromaticity a, Chromaticity b) {
    return distance_uv(to_uv(a), to_uv(b));
}

}  // namespace tallow::colour
