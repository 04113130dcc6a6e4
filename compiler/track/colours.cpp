#include "compiler/track/colours.hpp"

#include <algorithm>

#include "compiler/track/mixing.hpp"

namespace tallow::track {

using show::Setting;

const TypeColour& Colours::on(Alike fixtures, const Setting& setting) {
    const bool palette = setting.kind == Setting::Kind::palette;
    const std::array<std::uint64_t, 2> key{std::uint64_t{fixtures.type} << 32 | fixtures.balance,
                                           std::uint64_t{palette} << 32 | setting.what};
    const auto it = known_.find(key);
    if (it != known_.end()) return it->second;
    TypeColour solved = palette ? of_palette(fixtures, show_.palettes[setting.what])
                                : solve(fixtures, show_.colours[setting.what].xy);
    const TypeColour& kept = known_.emplace(key, std::move(solved)).first->second;
    asked_.push_back({fixtures, palette, setting.what, setting.span, &kept});
    return kept;
}

const TypeColour& Colours::on(show::Element element, const Setting& setting) {
    const show::Fixture& fixture = show_.fixtures[element.fixture];
    Setting held = setting;
    if (held.kind == Setting::Kind::palette) held.what = palette_for(show_, held.what, element);
    return on(Alike{fixture.type, fixture.balance}, held);
}

// In a balanced group all take the light of the darkest kind.
TypeColour Colours::solve(Alike fixtures, colour::Chromaticity target) const {
    const show::Type& type = show_.types[fixtures.type];
    Mixed mixed = mix(type, target);
    double kept = 1;
    if (fixtures.balance != show::none && mixed.lumens > 0)
        for (const Index other : show_.balances[fixtures.balance].types) {
            const double lumens =
                other == fixtures.type ? mixed.lumens : mix(show_.types[other], target).lumens;
            if (lumens > 0) kept = std::min(kept, lumens / mixed.lumens);
        }
    TypeColour result{{}, mixed.slot, mixed.distance, true, mixed.xy, mixed.lumens * kept, kept};
    for (const double level : mixed.level)
        result.level.push_back(static_cast<Level>(65535 * level * kept + 0.5));
    return result;
}

// Emitters that are named are taken as they are.
TypeColour Colours::of_palette(Alike fixtures, const show::Palette& palette) const {
    const show::Type& type = show_.types[fixtures.type];
    TypeColour result{std::vector<Level>(type.emitters.size(), 0)};
    for (Index i = 0; i < palette.setting_count; ++i) {
        const Setting& s = show_.settings[palette.first_setting + i];
        if (s.kind == Setting::Kind::colour) return solve(fixtures, show_.colours[s.what].xy);
        if (s.kind != Setting::Kind::emitter) continue;
        for (std::size_t e = 0; e < type.emitters.size(); ++e)
            if (type.emitters[e].name == show_.attributes[s.what]) result.level[e] = s.level;
    }
    return result;
}

}  // namespace tallow::track
