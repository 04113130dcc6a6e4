#include "compiler/track/dimming.hpp"

#include <algorithm>

#include "compiler/track/halving.hpp"

namespace tallow::track {
namespace {

constexpr double whole = 1e8;  // a slot in millionths of a percent

double on_points(const std::vector<show::Point>& points, double v) {
    const auto behind = std::find_if(points.begin() + 1, points.end() - 1, [&](const show::Point& p) {
        return v <= static_cast<double>(p.at) / whole;
    });
    const show::Point& before = *(behind - 1);
    const double from = static_cast<double>(before.at) / whole, to = static_cast<double>(behind->at) / whole;
    const double a = before.level / 65535.0, b = behind->level / 65535.0;
    return a + (b - a) * (v - from) / (to - from);
}

// CIE 15: L* = 116·Y^⅓ − 16 above 8, 903.2963·Y below.
double of_lightness(double v) {
    const double lightness = 100 * v;
    if (lightness <= 8) return lightness / 903.2963;
    const double root = (lightness + 16) / 116;
    return root * root * root;
}

}  // namespace

double light_at(show::Law law, const std::vector<show::Point>& points, double v) {
    switch (law) {
        case show::Law::square:
            return v * v;
        case show::Law::lightness:
            return of_lightness(v);
        case show::Law::points:
            return on_points(points, v);
        default:
            return v;
    }
}

double Dimming::slot(double light) const {
    const double least = static_cast<double>(std::max(response_.preheat, response_.floor)) / whole;
    if (light <= 0) return response_.preheat > 0 ? least : 0;
    const double slot =
        last_below(light, [&](double v) { return light_at(response_.law, response_.points, v); });
    return least + (1 - least) * slot;
}

}  // namespace tallow::track
