#include "compiler/track/colours.hpp"

namespace tallow::track {

using show::Setting;

const TypeColour& Colours::on(Index type, const Setting& setting) {
    const bool palette = setting.kind == Setting::Kind::palette;
    const std::uint64_t key = std::uint64_t{type} << 33 | std::uint64_t{palette} << 32 | setting.what;
    const auto it = known_.find(key);
    if (it != known_.end()) return it->second;
    const show::Type& t = show_.types[type];
    TypeColour solved =
        palette ? of_palette(t, show_.palettes[setting.what]) : solve(t, show_.colours[setting.what].xy);
    const TypeColour& kept = known_.emplace(key, std::move(solved)).first->second;
    asked_.push_back({type, palette, setting.what, setting.span, &kept});
    return kept;
}

TypeColour Colours::solve(const show::Type& type, colour::Chromaticity target) {
    std::vector<colour::Emitter> lights;
    for (const show::Emitter& e : type.emitters)
        if (e.visible) lights.push_back(e.light);
    const colour::Mix mix = colour::solve(lights, target);
    TypeColour result{std::vector<Level>(type.emitters.size(), 0), mix.distance, true};
    std::size_t next = 0;
    for (std::size_t i = 0; i < type.emitters.size(); ++i)
        if (type.emitters[i].visible) result.level[i] = static_cast<Level>(65535 * mix.level[next++] + 0.5);
    return result;
}

TypeColour Colours::of_palette(const show::Type& type, const show::Palette& palette) const {
    TypeColour result{std::vector<Level>(type.emitters.size(), 0), 0, false};
    for (Index i = 0; i < palette.setting_count; ++i) {
        const Setting& s = show_.settings[palette.first_setting + i];
        if (s.kind == Setting::Kind::colour) result = solve(type, show_.colours[s.what].xy);
        if (s.kind != Setting::Kind::emitter) continue;
        for (std::size_t e = 0; e < type.emitters.size(); ++e)
            if (type.emitters[e].name == show_.attributes[s.what]) result.level[e] = s.level;
    }
    return result;
}

}  // namespace tallow::track
