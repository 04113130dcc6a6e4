#include "compiler/show/can_take.hpp"

#include <algorithm>

namespace tallow::show {
namespace {

bool has(const Mode& mode, const std::vector<std::uint16_t>& places, Index attribute) {
    return std::any_of(places.begin(), places.end(),
                       [&](std::uint16_t p) { return mode.parameters[p].attribute == attribute; });
}

bool takes_parameter(const Show& show, const Type& type, const Mode& mode, const Part& part,
                     const Setting& s) {
    if (!has(mode, part.position, s.what) && !has(mode, part.beam, s.what)) return false;
    bool jumps = false;
    return level_of(type, s.what, show.values[s.value], jumps).has_value();
}

bool takes_palette(const Show& show, Element element, const Palette& palette) {
    for (Index i = 0; i < palette.setting_count; ++i)
        if (can_take(show, element, show.settings[palette.first_setting + i])) return true;
    return false;
}

bool takes_wave(const Type& type, const Mode& mode, const Part& part, const Wave& wave) {
    return std::any_of(wave.components.begin(), wave.components.end(), [&](const Component& c) {
        if (c.kind == Kind::intensity) return !part.intensity.empty();
        if (c.kind == Kind::colour && c.attribute == none) return !part.emitters.empty();
        if (c.kind == Kind::colour) return has(mode, part.emitters, c.attribute);
        const auto& places = c.kind == Kind::position ? part.position : part.beam;
        return has(mode, places, c.attribute) && has_ends(type, c);
    });
}

}  // namespace

bool can_take(const Show& show, Element element, const Setting& setting) {
    const Fixture& fixture = show.fixtures[element.fixture];
    const Mode& mode = show.mode_of(fixture);
    const Part& part = mode.parts[element.cell];
    switch (setting.kind) {
        case Setting::Kind::level:
            return !part.intensity.empty();
        case Setting::Kind::colour:
            return !part.emitters.empty() || part.wheel != no_place;
        case Setting::Kind::emitter:
            return has(mode, part.emitters, setting.what);
        case Setting::Kind::palette:
            return takes_palette(show, element, show.palettes[palette_for(show, setting.what, element)]);
        case Setting::Kind::parameter:
            return takes_parameter(show, show.type_of(fixture), mode, part, setting);
        case Setting::Kind::wave:
            return takes_wave(show.type_of(fixture), mode, part,
                              show.waves[show.wave_uses[setting.what].wave]);
        case Setting::Kind::steady:
        case Setting::Kind::chase:
        case Setting::Kind::chase_off:
            return true;
    }
    return false;
}

}  // namespace tallow::show
