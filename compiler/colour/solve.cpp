#include "compiler/colour/solve.hpp"

#include <cstddef>

#include "compiler/colour/box_program.hpp"
#include "compiler/colour/gamut.hpp"

namespace tallow::colour {
namespace {

// X + 15Y + 3Z of an emitter at full: lights mix in u′v′ with these weights.
double weight(const Emitter& e) {
    return e.lumens * (-2 * e.xy.x + 12 * e.xy.y + 3) / e.xy.y;
}

std::vector<double> levels_inside(std::span<const Emitter> emitters, std::span<const Uv> points, Uv target) {
    std::vector<Column> columns;
    for (std::size_t k = 0; k < emitters.size(); ++k) {
        const double w = weight(emitters[k]);
        columns.push_back({emitters[k].lumens, {w * (points[k].u - target.u), w * (points[k].v - target.v)}});
    }
    return most_gain(columns);
}

// On the edge of the gamut only the emitters along it can take part, and only their place along it counts.
std::vector<double> levels_on_edge(std::span<const Emitter> emitters, std::span<const Uv> points,
                                   const Edge& edge) {
    std::vector<Column> columns;
    std::vector<std::size_t> taking_part;
    for (std::size_t k = 0; k < emitters.size(); ++k) {
        if (!on_line(edge, points[k])) continue;
        const double along = (points[k].u - edge.nearest.u) * (edge.to.u - edge.from.u) +
                             (points[k].v - edge.nearest.v) * (edge.to.v - edge.from.v);
        columns.push_back({emitters[k].lumens, {weight(emitters[k]) * along, 0}});
        taking_part.push_back(k);
    }
    const std::vector<double> part = most_gain(columns);
    std::vector<double> level(emitters.size(), 0.0);
    for (std::size_t k = 0; k < part.size(); ++k) level[taking_part[k]] = part[k];
    return level;
}

}  // namespace

std::optional<Light> light_of(std::span<const Emitter> emitters, std::span<const double> levels) {
    double x = 0, y = 0, sum = 0;
    for (std::size_t k = 0; k < emitters.size(); ++k) {
        const auto& [xy, lumens] = emitters[k];
        const double all = levels[k] * lumens / xy.y;  // X + Y + Z
        x += all * xy.x;
        y += levels[k] * lumens;
        sum += all;
    }
    if (sum <= 0) return std::nullopt;
    return Light{{x / sum, y / sum}, y};
}

Mix solve(std::span<const Emitter> emitters, Chromaticity target) {
    if (emitters.empty()) return {{}, target, 0, no_light};
    std::vector<Uv> points;
    for (const Emitter& e : emitters) points.push_back(to_uv(e.xy));
    const Place place = locate(points, to_uv(target));
    std::vector<double> level = place.inside ? levels_inside(emitters, points, to_uv(target))
                                             : levels_on_edge(emitters, points, place.edge);
    const auto light = light_of(emitters, level);  // some emitter is at full
    return {std::move(level), light->xy, light->lumens, distance_uv(light->xy, target)};
}

}  // namespace tallow::colour
