#include "compiler/track/light.hpp"

#include <vector>

#include "compiler/colour/srgb.hpp"

namespace tallow::track {
namespace {

constexpr double full = runtime::full;

std::optional<colour::Light> through_filters(const show::Type& type, std::span<const double> levels) {
    colour::LinearRgb rgb{1, 1, 1};
    for (std::size_t i = 0; i < levels.size(); ++i) {
        double& part = type.emitters[i].filter == show::Filter::red     ? rgb.r
                       : type.emitters[i].filter == show::Filter::green ? rgb.g
                                                                        : rgb.b;
        part = 1 - levels[i] / full;
    }
    if (rgb.r + rgb.g + rgb.b <= 0) return std::nullopt;
    return colour::Light{colour::chromaticity_of(rgb), 0};
}

}  // namespace

std::optional<colour::Light> light_of(const show::Type& type, std::span<const double> levels) {
    if (type.filtered()) return through_filters(type, levels);
    std::vector<colour::Emitter> lights;
    std::vector<double> shares;
    for (std::size_t i = 0; i < levels.size(); ++i)
        if (type.emitters[i].visible) {
            lights.push_back(type.emitters[i].light);
            shares.push_back(levels[i] / full);
        }
    return colour::light_of(lights, shares);
}

}  // namespace tallow::track
