#include "compiler/track/mixing.hpp"

#include <algorithm>

#include "compiler/colour/srgb.hpp"

namespace tallow::track {
namespace {

Mixed by_emitters(const show::Type& type, colour::Chromaticity target) {
    std::vector<colour::Emitter> lights;
    for (const show::Emitter& e : type.emitters)
        if (e.visible) lights.push_back(e.light);
    const colour::Mix mix = colour::solve(lights, target);
    Mixed result{std::vector<double>(type.emitters.size(), 0.0), show::none, mix.xy, mix.luminance,
                 mix.distance};
    auto next = mix.level.begin();
    for (std::size_t i = 0; i < type.emitters.size(); ++i)
        if (type.emitters[i].visible) result.level[i] = *next++;
    return result;
}

Mixed by_filters(const show::Type& type, colour::Chromaticity target) {
    const colour::LinearRgb rgb = colour::brightest_rgb(target);
    Mixed result;
    for (const show::Emitter& e : type.emitters)
        result.level.push_back(1 - (e.filter == show::Filter::red     ? rgb.r
                                    : e.filter == show::Filter::green ? rgb.g
                                                                      : rgb.b));
    result.xy = colour::chromaticity_of(rgb);
    result.distance = colour::distance_uv(result.xy, target);
    return result;
}

Mixed by_wheel(const show::Type& type, colour::Chromaticity target) {
    const auto& slots = type.wheel.slots;
    const auto nearest = std::min_element(slots.begin(), slots.end(), [&](const auto& a, const auto& b) {
        return colour::distance_uv(a.xy, target) < colour::distance_uv(b.xy, target);
    });
    Mixed result{std::vector<double>(type.emitters.size(), 0.0)};
    result.slot = static_cast<show::Index>(nearest - slots.begin());
    result.xy = nearest->xy;
    result.distance = colour::distance_uv(nearest->xy, target);
    return result;
}

}  // namespace

Way way_of(const show::Type& type) {
    if (type.filtered()) return Way::filters;
    const bool shines = std::any_of(type.emitters.begin(), type.emitters.end(),
                                    [](const show::Emitter& e) { return e.visible; });
    return shines || type.wheel.slots.empty() ? Way::emitters : Way::wheel;
}

Mixed mix(const show::Type& type, colour::Chromaticity target) {
    switch (way_of(type)) {
        case Way::filters:
            return by_filters(type, target);
        case Way::wheel:
            return by_wheel(type, target);
        default:
            return by_emitters(type, target);
    }
}

}  // namespace tallow::track
