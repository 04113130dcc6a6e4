#include "compiler/palettes/light.hpp"

#include "compiler/colour/srgb.hpp"

namespace tallow::palettes {
namespace {

constexpr double full = runtime::full;

std::optional<Light> through_filters(const show::Type& type, std::span<const double> levels) {
    colour::LinearRgb rgb{1, 1, 1};
    for (std::size_t i = 0; i < levels.size(); ++i) {
        double& part = type.emitters[i].filter == show::Filter::red     ? rgb.r
                       : type.emitters[i].filter == show::Filter::green ? rgb.g
                                                                        : rgb.b;
        part = 1 - levels[i] / full;
    }
    if (rgb.r + rgb.g + rgb.b <= 0) return std::nullopt;
    return Light{colour::chromaticity_of(rgb), 0};
}

}  // namespace

std::optional<Light> light_of(const show::Type& type, std::span<const double> levels) {
    if (type.filtered()) return through_filters(type, levels);
    double x = 0, y = 0, sum = 0;
    for (std::size_t i = 0; i < levels.size(); ++i) {
        const show::Emitter& e = type.emitters[i];
        if (!e.visible || levels[i] <= 0) continue;
        const double lumens = levels[i] / full * e.light.lumens, all = lumens / e.light.xy.y;  // X + Y + Z
        x += all * e.light.xy.x;
        y += lumens;
        sum += all;
    }
    if (sum <= 0) return std::nullopt;
    return Light{{x / sum, y / sum}, y};
}

}  // namespace tallow::palettes
