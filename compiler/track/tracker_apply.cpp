// What the settings of a line do to its fixtures.
#include <algorithm>

#include "compiler/track/spread.hpp"
#include "compiler/track/tracker_set.hpp"

namespace tallow::track {

using show::Element;
using show::Setting;

void Tracker::apply(const Setting& setting, const show::Selection& selection) {
    switch (setting.kind) {
        case Setting::Kind::level:
            return apply_level(Share{}.scaled(setting.level, setting.level, manner_.scale));
        case Setting::Kind::colour:
            return apply_colour(setting);
        case Setting::Kind::palette:
            return apply_palette(setting, selection);
        case Setting::Kind::emitter:
            for (const Element& element : selection.elements) apply_emitter(setting, element, setting.level);
            return;
        case Setting::Kind::parameter:
            for (const Element& element : selection.elements) apply_value(setting, setting, element, {});
            return;
        case Setting::Kind::steady:
            for (const Element& element : selection.elements) end_waves(element);
            return;
        case Setting::Kind::wave:
            return apply_wave(setting);
        case Setting::Kind::chase:
            return start_chase(setting.what);
        case Setting::Kind::chase_off:
            return end_chase(setting.what);
    }
}

// A running intensity wave goes on.
void Tracker::apply_level(Level level) {
    for (const Steps& steps : targets_.intensities(selection_))
        for (Index i = 0; i < steps.count; ++i) {
            const Index p = steps.at(i);
            const Parameter& parameter = parameters_[p];
            set(p, level, parameter.wave, parameter.ranged && level_jumps(p, level));
        }
}

void Tracker::apply_colour(const Setting& setting) {
    const bool palette = setting.kind == Setting::Kind::palette;
    const TypeColour* colour = nullptr;
    Alike alike{show::none, show::none};  // that `colour` is for
    for (const EmitterRun& run : targets_.emitters(selection_)) {
        if (palette && !colours(show_.palettes[setting.what], *run.mode, *run.part)) continue;
        if (colour == nullptr || run.alike != alike) colour = &book_.colours.on(alike = run.alike, setting);
        for (Index i = 0; i < run.fixtures.count; ++i) {
            const Index first = run.fixtures.at(i);
            for (const std::uint16_t place : run.part->emitters)
                set(first + place, colour->level[run.mode->parameters[place].emitter],
                    kept_chase(parameters_[first + place].wave), false);
            turn_wheel(*colour, show_.types[alike.type].wheel, *run.part, first);
        }
    }
}

// A wheel jumps to its slot.
void Tracker::turn_wheel(const TypeColour& colour, const show::Wheel& wheel, const show::Part& part,
                         Index first_parameter) {
    if (colour.slot == show::none || part.wheel == show::no_place) return;
    const Index p = first_parameter + part.wheel;
    set(p, wheel.slots[colour.slot].level, kept_chase(parameters_[p].wave), true);
}

// A fixture with none of the emitters that a palette names keeps its colour.
bool Tracker::colours(const show::Palette& palette, const show::Mode& mode, const show::Part& in) const {
    for (Index i = 0; i < palette.setting_count; ++i) {
        const Setting& part = show_.settings[palette.first_setting + i];
        if (part.kind == Setting::Kind::colour) return true;
        if (part.kind != Setting::Kind::emitter) continue;
        for (const std::uint16_t place : in.emitters)
            if (mode.parameters[place].attribute == part.what) return true;
    }
    return false;
}

void Tracker::apply_palette(const Setting& setting, const show::Selection& selection) {
    const show::Palette& palette = show_.palettes[setting.what];
    if (!palette.differs.empty()) {
        for (const Element& element : selection.elements) apply_palette(setting, setting, element, {});
        return;
    }
    if (palette.coloured) apply_colour(setting);
    for (Index i = 0; i < palette.setting_count; ++i) {
        const Setting& part = show_.settings[palette.first_setting + i];
        if (part.kind != Setting::Kind::parameter) continue;
        for (const Element& element : selection.elements) apply_value(part, part, element, {});
    }
}

// On a fixture or cell without a colour yet, the other emitters start at 0; a colour wave ends on all of
// them.
void Tracker::apply_emitter(const Setting& setting, Element element, Level level) {
    const show::Fixture& fixture = show_.fixtures[element.fixture];
    const show::Mode& mode = show_.mode_of(fixture);
    for (const std::uint16_t place : mode.parts[element.cell].emitters) {
        const Index p = fixture.first_parameter + place;
        const Parameter& parameter = parameters_[p];
        const bool fresh = !parameter.stated;
        if (mode.parameters[place].attribute == setting.what)
            set(p, level, kept_chase(parameter.wave), false);
        else if (fresh)
            set(p, 0, kept_chase(parameter.wave), false);
        else if (parameter.wave != show::none)
            set_over(p, kept_chase(parameter.wave));
    }
}

// A parameter's value: one that the fixture lacks is skipped. A running position wave goes on.
void Tracker::apply_value(const Setting& setting, const Setting& last, Element element, Share share) {
    const show::Fixture& fixture = show_.fixtures[element.fixture];
    const show::Mode& mode = show_.mode_of(fixture);
    const show::Part& part = mode.parts[element.cell];
    for (const auto* places : {&part.position, &part.beam})
        for (const std::uint16_t place : *places) {
            if (mode.parameters[place].attribute != setting.what) continue;
            bool jumps = false;
            const show::Type& type = show_.type_of(fixture);
            auto level = level_of(type, setting.what, show_.values[setting.value], jumps);
            if (share.last > 0 && last.value != setting.value) {
                const auto end = level_of(type, setting.what, show_.values[last.value], jumps);
                level = level && end ? std::optional(share.between(*level, *end)) : std::nullopt;
            }
            const Index p = fixture.first_parameter + place;
            const bool offset = parameters_[p].kind == show::Kind::position;
            const Index wave = parameters_[p].wave;
            if (level) set(p, *level, offset ? wave : kept_chase(wave), jumps);
        }
}

}  // namespace tallow::track
