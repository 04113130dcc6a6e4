#include "compiler/show/points.hpp"

#include <fmt/format.h>

#include "compiler/show/bounds.hpp"

namespace tallow::show {

std::vector<Point> read_points(Reader& reader, std::string_view what) {
    std::vector<Point> points;
    while (!reader.muted()) {
        const auto at = reader.measure(Unit::percent, what, "20%", 0, 100);
        if (!at) return points;
        const auto level = reader.level();
        if (!level) return points;
        if (!points.empty() && *at < points.back().at) {
            reader.fault(Finding::out_of_range, reader.last(), "points go from left to right");
            return points;
        }
        points.push_back({*at, *level});
        if (points.size() > points_at_most) {
            reader.fault(Finding::too_many, reader.last(),
                         fmt::format("a line may be drawn by {} points", points_at_most));
            return points;
        }
        if (!reader.take(AtomKind::comma)) break;
    }
    if (points.size() < 2) reader.expected("`,` and a second point");
    return points;
}

}  // namespace tallow::show
