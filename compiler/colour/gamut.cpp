#include "compiler/colour/gamut.hpp"

#include <algorithm>
#include <cstddef>
#include <limits>
#include <vector>

namespace tallow::colour {
namespace {

// Twice the area of a triangle, positive when it turns left.
double area(Uv a, Uv b, Uv c) {
    return (b.u - a.u) * (c.v - a.v) - (b.v - a.v) * (c.u - a.u);
}

// One side of the hull: the points on the way that always turn left, without the last, where the other side
// begins.
void add_chain(std::vector<Uv>& hull, const std::vector<Uv>& sorted) {
    const std::size_t start = hull.size();
    for (const Uv p : sorted) {
        while (hull.size() >= start + 2 && area(hull[hull.size() - 2], hull.back(), p) <= 0) hull.pop_back();
        hull.push_back(p);
    }
    hull.pop_back();
}

// Counter-clockwise, without points on its edges (the monotone chain).
std::vector<Uv> convex_hull(std::span<const Uv> points) {
    std::vector<Uv> sorted(points.begin(), points.end());
    std::sort(sorted.begin(), sorted.end(),
              [](Uv a, Uv b) { return a.u < b.u || (a.u == b.u && a.v < b.v); });
    sorted.erase(
        std::unique(sorted.begin(), sorted.end(), [](Uv a, Uv b) { return a.u == b.u && a.v == b.v; }),
        sorted.end());
    if (sorted.size() == 1) return sorted;
    std::vector<Uv> hull;
    add_chain(hull, sorted);
    std::reverse(sorted.begin(), sorted.end());
    add_chain(hull, sorted);
    return hull;
}

Uv nearest_on(Uv a, Uv b, Uv target) {
    const double u = b.u - a.u, v = b.v - a.v, square = u * u + v * v;
    if (square == 0) return a;
    const double way = std::clamp(((target.u - a.u) * u + (target.v - a.v) * v) / square, 0.0, 1.0);
    return way == 1 ? b : Uv{a.u + way * u, a.v + way * v};
}

}  // namespace

Place locate(std::span<const Uv> points, Uv target) {
    const std::vector<Uv> hull = convex_hull(points);
    Place place{true, {}};
    double least = std::numeric_limits<double>::infinity();
    for (std::size_t k = 0; k < hull.size(); ++k) {
        const Uv a = hull[k], b = hull[(k + 1) % hull.size()];
        if (area(a, b, target) <= same_uv * distance_uv(a, b)) place.inside = false;
        const Uv nearest = nearest_on(a, b, target);
        if (const double d = distance_uv(nearest, target); d < least) least = d, place.edge = {a, b, nearest};
    }
    return place;
}

bool on_line(const Edge& edge, Uv point) {
    const double length = distance_uv(edge.from, edge.to);
    if (length <= same_uv) return distance_uv(edge.from, point) <= same_uv;
    const double off = area(edge.from, edge.to, point) / length;
    return off <= same_uv && off >= -same_uv;
}

}  // namespace tallow::colour
