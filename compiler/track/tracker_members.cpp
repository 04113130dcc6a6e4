// Lines that do something of its own to each member of their selection: spreads, and parts of looks.
#include <algorithm>

#include "compiler/track/spread.hpp"
#include "compiler/track/tracker_set.hpp"

namespace tallow::track {

using show::Element;
using show::Setting;
using show::Statement;

void Tracker::play_members(const Statement& statement) {
    const std::vector<Element>& elements = show_.selections[statement.selection].elements;
    if (elements.empty()) return;
    const auto last = static_cast<std::int64_t>(elements.size()) - 1;
    by_member_ = statement.has_spread_times();
    member_timing_ = static_cast<std::uint32_t>(timings_.size());
    if (by_member_)
        for (std::int64_t i = 0; i <= last; ++i) add_timings(times_of(cue().times, statement, {i, last}));
    else if (statement.fade || statement.delay)
        add_timings(times_of(cue().times, statement, {}));
    for (Index i = 0; i < statement.setting_count; ++i) {
        const Setting& setting = show_.settings[statement.first_setting + i];
        if (setting.kind == Setting::Kind::wave || setting.kind == Setting::Kind::chase ||
            setting.kind == Setting::Kind::chase_off) {
            apply(setting, show_.selections[statement.selection]);
            continue;
        }
        for (std::int64_t m = 0; m <= last; ++m) {
            take_timing(static_cast<std::uint32_t>(m));
            apply_to_member(setting, elements[static_cast<std::size_t>(m)], {m, last});
        }
    }
}

// Makes a member's own timing the present one.
void Tracker::take_timing(std::uint32_t member) {
    if (by_member_) first_timing_ = member_timing_ + 4 * member;
}

// A master that a whole fixture has stands above its cells: a line for the fixture gives cells alone no
// level.
bool Tracker::level_is_of_cells(Element whole, Element cell) const {
    const show::Mode& mode = show_.mode_of(show_.fixtures[whole.fixture]);
    const auto& of_whole = mode.parts[whole.cell].intensity;
    const auto& of_cell = mode.parts[cell.cell].intensity;
    return std::all_of(of_cell.begin(), of_cell.end(), [&](std::uint16_t place) {
        return std::find(of_whole.begin(), of_whole.end(), place) != of_whole.end();
    });
}

void Tracker::apply_to_member(const Setting& setting, Element member, Share share) {
    if (manner_.within == nullptr) return apply_to(setting, member, share);
    std::vector<Element> parts;
    manner_.within->common(member, parts);
    for (const Element& part : parts)
        if (setting.kind != Setting::Kind::level || part == member || level_is_of_cells(member, part))
            apply_to(setting, part, share);
}

void Tracker::apply_to(const Setting& setting, Element element, Share share) {
    const Setting& last = setting.to == show::none ? setting : show_.ends[setting.to];
    switch (setting.kind) {
        case Setting::Kind::level:
            return apply_level(share.scaled(setting.level, last.level, manner_.scale), element);
        case Setting::Kind::colour:
            return apply_colour(setting, last, element, share);
        case Setting::Kind::palette:
            return apply_palette(setting, last, element, share);
        case Setting::Kind::emitter:
            return apply_emitter(setting, element, share.between(setting.level, last.level));
        case Setting::Kind::parameter:
            return apply_value(setting, last, element, share);
        default:
            return end_waves(element);
    }
}

void Tracker::apply_level(Level level, Element element) {
    const show::Fixture& fixture = show_.fixtures[element.fixture];
    for (const std::uint16_t place : show_.mode_of(fixture).parts[element.cell].intensity) {
        const Index p = fixture.first_parameter + place;
        set(p, level, parameters_[p].wave, parameters_[p].ranged && level_jumps(p, level));
    }
}

// The ends of a spread mix as emitter levels, type by type.
void Tracker::apply_colour(const Setting& first, const Setting& last, Element element, Share share) {
    const show::Fixture& fixture = show_.fixtures[element.fixture];
    const show::Mode& mode = show_.mode_of(fixture);
    const TypeColour& from = book_.colours.on(element, first);
    const TypeColour& to = book_.colours.on(element, last);
    for (const std::uint16_t place : mode.parts[element.cell].emitters) {
        const Index p = fixture.first_parameter + place;
        const std::uint16_t emitter = mode.parameters[place].emitter;
        set(p, share.between(from.level[emitter], to.level[emitter]), kept_chase(parameters_[p].wave), false);
    }
    turn_wheel(2 * share.place < share.last ? from : to, show_.type_of(fixture).wheel,
               mode.parts[element.cell], fixture.first_parameter);
}

// Colour to colour, and every value that both ends hold.
void Tracker::apply_palette(const Setting& first, const Setting& last, Element element, Share share) {
    const show::Palette& from = show_.palettes[palette_for(show_, first.what, element)];
    const show::Fixture& fixture = show_.fixtures[element.fixture];
    const show::Mode& mode = show_.mode_of(fixture);
    if (from.coloured && colours(from, mode, mode.parts[element.cell]))
        apply_colour(first, last, element, share);
    if (last.kind != Setting::Kind::palette) return;
    const show::Palette& to = show_.palettes[palette_for(show_, last.what, element)];
    for (Index i = 0; i < from.setting_count; ++i) {
        const Setting& value = show_.settings[from.first_setting + i];
        if (value.kind != Setting::Kind::parameter) continue;
        for (Index k = 0; k < to.setting_count; ++k) {
            const Setting& other = show_.settings[to.first_setting + k];
            if (other.kind == value.kind && other.what == value.what)
                apply_value(value, other, element, share);
        }
    }
}

}  // namespace tallow::track
