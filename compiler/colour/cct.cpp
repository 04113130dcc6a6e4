// In mireds (10⁶/kelvin) the locus runs at about even speed. The nearest of some points along it tells
// between which two the nearest of all lies: there the way from the locus to the target stands square on the
// locus.
#include "compiler/colour/cct.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <vector>

#include "compiler/colour/planck.hpp"
#include "compiler/colour/temperature.hpp"

namespace tallow::colour {
namespace {

constexpr double mired_min = 1e6 / kelvin_max, mired_max = 1e6 / kelvin_min;
constexpr double rounding = 1e-6;  // mireds: so far the ends of the locus may be missed

// Of the CIE 1960 diagram.
struct Point {
    double u, v;
};
Point operator-(Point a, Point b) {
    return {a.u - b.u, a.v - b.v};
}
double dot(Point a, Point b) {
    return a.u * b.u + a.v * b.v;
}
double cross(Point a, Point b) {
    return a.u * b.v - a.v * b.u;
}

struct Stop {
    double mired;
    Point at, along;  // its place, and how it moves for each mired more
};

Stop stop(double mired) {
    const auto [light, change] = black_body(1e6 / mired);
    const double sum = light.x + 15 * light.y + 3 * light.z;
    const double sum_change = change.x + 15 * change.y + 3 * change.z;
    const Point at{4 * light.x / sum, 6 * light.y / sum};
    return {mired, at, {(4 * change.x - at.u * sum_change) / sum, (6 * change.y - at.v * sum_change) / sum}};
}

// One stop more at either end, so that every place within the range lies between two.
std::vector<Stop> make_stops() {
    constexpr int steps = 48;
    constexpr double step = (mired_max - mired_min) / steps;
    std::vector<Stop> stops;
    for (int n = -1; n <= steps + 1; ++n) stops.push_back(stop(mired_min + step * n));
    return stops;
}

// How many mireds further along the target lies, were the locus straight.
double ahead(const Stop& from, Point target) {
    return dot(target - from.at, from.along) / dot(from.along, from.along);
}

// Between a stop that the target is ahead of and one that it is behind: false position, where an end that
// stays is taken for half as far off (the Illinois method), which always closes in.
Stop nearest_between(Stop low, Stop high, Point target) {
    constexpr double near_enough = 1e-9;
    double low_ahead = ahead(low, target), high_ahead = ahead(high, target);
    Stop middle = low;
    double last = 0;
    for (int step = 0; step < 100; ++step) {
        middle = stop(low.mired + (high.mired - low.mired) * (low_ahead / (low_ahead - high_ahead)));
        const double now = ahead(middle, target);
        if (std::fabs(now) < near_enough) break;
        if (now > 0) {
            low = middle, low_ahead = now;
            if (last > 0) high_ahead /= 2;
        } else {
            high = middle, high_ahead = now;
            if (last < 0) low_ahead /= 2;
        }
        last = now;
    }
    return middle;
}

}  // namespace

std::optional<Correlated> correlated_temperature(Chromaticity xy) {
    static const std::vector<Stop> stops = make_stops();
    const Uv uv = to_uv(xy);
    const Point target{uv.u, uv.v * 2 / 3};
    const auto first = std::min_element(stops.begin(), stops.end(), [&](const Stop& a, const Stop& b) {
        return dot(target - a.at, target - a.at) < dot(target - b.at, target - b.at);
    });
    const auto low = ahead(*first, target) > 0 || first == stops.begin() ? first : first - 1;
    const auto high = low + 1;
    if (high == stops.end() || ahead(*low, target) < 0 || ahead(*high, target) > 0) return std::nullopt;
    const Stop nearest = nearest_between(*low, *high, target);
    if (nearest.mired < mired_min - rounding || nearest.mired > mired_max + rounding) return std::nullopt;
    const double duv =
        cross(nearest.along, target - nearest.at) / std::sqrt(dot(nearest.along, nearest.along));
    if (std::fabs(duv) > duv_max) return std::nullopt;
    return Correlated{1e6 / std::clamp(nearest.mired, mired_min, mired_max), duv};
}

}  // namespace tallow::colour
