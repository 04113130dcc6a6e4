#include "compiler/show/statements.hpp"

#include <algorithm>
#include <fmt/format.h>
#include <utility>

#include "compiler/show/values.hpp"
#include "compiler/text/decimal.hpp"

namespace tallow::show {
namespace {

// A range by its name, or `-270deg..270deg`.
std::string range_text(const Range& range) {
    std::string_view sign;
    for (const grammar::UnitInfo& u : grammar::units)
        if (u.unit == range.unit) sign = u.text;
    return range.unit == Unit::none
               ? range.name
               : fmt::format("{}{}..{}{}", text::decimal(range.low), sign, text::decimal(range.high), sign);
}

constexpr std::string_view palettes_wanted = "palette or parameter";

}  // namespace

std::optional<Item> StatementReader::read(Reader& reader) {
    if (reader.next_is(Word::look)) return read_look(reader);
    if (reader.next_is(Word::chase)) return read_chase(reader);
    const std::size_t place = reader.place();
    now_ = {};
    levelled_ = coloured_ = false;
    now_.selection = selector_.read(reader);
    if (now_.selection == none) return std::nullopt;
    now_.first_setting = static_cast<Index>(scope_.show.settings.size());
    const std::string selection = scope_.show.selections[now_.selection].text;
    if (reader.at_end())
        reader
            .fault(Finding::no_setting, reader.whole(),
                   fmt::format("this line says nothing about `{}`", selection))
            .with_hint(fmt::format("add a setting: `{} 50%`", selection));
    while (!reader.at_end() && !reader.muted()) read_setting(reader, selection);
    now_.setting_count = static_cast<Index>(scope_.show.settings.size()) - now_.first_setting;
    now_.span = reader.since(place);
    if (reader.muted() || scope_.show.selections[now_.selection].broken) return std::nullopt;
    if (now_.setting_count == 0) {
        reader
            .fault(Finding::no_setting, now_.span,
                   fmt::format("this line gives times to `{}` and nothing to do in them", selection))
            .with_hint(fmt::format("add a setting: `{} 50%`", selection));
        return std::nullopt;
    }
    check_taken(reader, scope_.show.selections[now_.selection], now_);
    scope_.show.statements.push_back(now_);
    return Item{static_cast<Index>(scope_.show.statements.size() - 1), none, now_.span};
}

// `chase NAME`, `chase NAME off`, with times of its own.
std::optional<Item> StatementReader::read_chase(Reader& reader) {
    reader.take();
    const Symbol* chase = scope_.look_up(scope_.chases, reader, "chase",
                                         [](const Symbol& s) { return s.kind == Symbol::Kind::chase; });
    if (chase == nullptr) return std::nullopt;
    now_ = {};
    now_.selection = scope_.show.chases[chase->index].selection;
    now_.first_setting = static_cast<Index>(scope_.show.settings.size());
    now_.setting_count = 1;
    Setting setting;
    setting.kind = reader.take(Word::off) ? Setting::Kind::chase_off : Setting::Kind::chase;
    setting.what = chase->index;
    while (!reader.at_end() && !reader.muted()) {
        if (reader.take(Word::fade))
            read_own_time(reader, "fade", now_.fade);
        else if (reader.take(Word::delay))
            read_own_time(reader, "delay", now_.delay);
        else
            reader.expected("`off`, `fade 2s` or `delay 1s`");
    }
    if (reader.muted()) return std::nullopt;
    setting.span = now_.span = reader.whole();
    scope_.show.settings.push_back(setting);
    scope_.show.statements.push_back(now_);
    return Item{static_cast<Index>(scope_.show.statements.size() - 1), none, now_.span};
}

void StatementReader::refuse_chase(Reader& reader, const std::string& selection) {
    const std::string_view name = reader.peek(1) == nullptr ? "NAME" : reader.text(*reader.peek(1));
    reader
        .fault(Finding::unexpected, reader.here(),
               fmt::format("a chase names its fixtures itself, and none stands before it: `{}`", selection))
        .with_hint(fmt::format("write `chase {}` on a line of its own", name));
}

std::optional<Item> StatementReader::read_look(Reader& reader) {
    reader.take();
    const Symbol* look = scope_.look_up(scope_.looks, reader, "look",
                                        [](const Symbol& s) { return s.kind == Symbol::Kind::look; });
    if (look == nullptr) return std::nullopt;
    if (reader.next_is_level()) not_built(reader, reader.here(), "a level behind a look's name");
    reader.expect_end();
    if (reader.muted()) return std::nullopt;
    return Item{none, look->index, reader.whole()};
}

void StatementReader::report_bare(Reader& reader, const std::string& selection) {
    const auto q = reader.quantity();
    if (!q) return;
    const std::string number = text::decimal(q->value);
    reader.fault(Finding::missing_unit, q->span, fmt::format("the level `{}` has no unit", number))
        .with_hint(fmt::format("write `{} {}%`", selection, number));
}

void StatementReader::report_no_setting(Reader& reader, const std::string& selection) {
    const Unit unit = reader.at_end() ? Unit::none : reader.peek()->unit();
    const std::string_view said = reader.at_end() ? "" : reader.text(*reader.peek());
    if (unit == Unit::unknown)
        reader
            .fault(Finding::unknown_unit, reader.here(),
                   fmt::format("`{}` has a unit that the language does not know", said))
            .with_hint(fmt::format("for a level, write `{} {}%`", selection,
                                   said.substr(0, said.find_first_not_of("0123456789.-"))));
    else if (unit == Unit::second || unit == Unit::millisecond || unit == Unit::minute)
        reader.fault(Finding::wrong_unit, reader.here(), fmt::format("the time `{}` stands alone", said))
            .with_hint(fmt::format("for this line's own time, write `fade {}`", said));
    else
        reader.expected("a setting such as `60%` or a palette");
}

// A line's own fade or delay.
void StatementReader::read_own_time(Reader& reader, std::string_view word,
                                    std::optional<std::uint64_t>& time) {
    if (time) reader.fault(Finding::repeated_word, reader.last(), fmt::format("`{}` is said twice", word));
    time = reader.time();
    if (next_is_dots(reader)) not_built(reader, reader.here(), "a spread over times");
}

void StatementReader::read_setting(Reader& reader, const std::string& selection) {
    const std::size_t place = reader.place();
    Setting setting;
    if (reader.next_is_level()) {
        const auto level = reader.level();
        setting.level = level.value_or(0);
    } else if (reader.take(Word::intensity)) {
        setting.level = reader.level().value_or(0);
    } else if (reader.take(Word::fade)) {
        return read_own_time(reader, "fade", now_.fade);
    } else if (reader.take(Word::delay)) {
        return read_own_time(reader, "delay", now_.delay);
    } else if (reader.take(Word::steady)) {
        setting.kind = Setting::Kind::steady;
    } else if (reader.take(Word::emitter)) {
        return read_emitter(reader);
    } else if (reader.take(Word::wave)) {
        return read_wave(reader);
    } else if (reader.next_is(Word::colour) || reader.next_is(Word::color) || next_is_colour(reader)) {
        return read_colour_setting(reader);
    } else if (reader.next_is(Word::chase)) {
        return refuse_chase(reader, selection);
    } else if (reader.next_is(Word::look)) {
        return not_built(reader, reader.here(), "SELECTION look NAME");
    } else if (reader.next_is_bare()) {
        return report_bare(reader, selection);
    } else if (reader.next_is(AtomKind::comma)) {
        reader.fault(Finding::unexpected, reader.here(), "a comma joins fixtures, and no settings")
            .with_hint("one selection a line: write the second on a line of its own");
        return;
    } else if (reader.next_is(AtomKind::word)) {
        return read_word(reader, selection);
    } else {
        return report_no_setting(reader, selection);
    }
    if (next_is_dots(reader)) return not_built(reader, reader.here(), "a spread over a selection");
    setting.span = reader.since(place);
    if (setting.kind == Setting::Kind::level && std::exchange(levelled_, true))
        reader.fault(Finding::repeated_word, setting.span, "this line gives two levels")
            .with_hint("keep one of them");
    scope_.show.settings.push_back(setting);
}

void StatementReader::note_colour(Reader& reader, Span span) {
    if (std::exchange(coloured_, true))
        reader.fault(Finding::repeated_word, span, "this line gives two colours")
            .with_hint("keep one of them");
}

// A palette, or a parameter and its value.
void StatementReader::read_word(Reader& reader, const std::string& selection) {
    const std::size_t place = reader.place();
    const syntax::Atom& atom = reader.take();
    const std::string name = reader.name_text(atom);
    Setting setting;
    const Symbol* symbol = scope_.rig.find(name);
    const Index attribute = scope_.find_attribute(name);
    if (symbol != nullptr && symbol->kind == Symbol::Kind::palette) {
        setting.kind = Setting::Kind::palette;
        setting.what = symbol->index;
        if (next_is_dots(reader)) return not_built(reader, reader.here(), "a spread over a selection");
        if (scope_.show.palettes[symbol->index].coloured) note_colour(reader, reader.span(atom));
    } else if (symbol != nullptr && symbol->kind == Symbol::Kind::broken) {
        return reader.mute();
    } else if (attribute != none && scope_.is_emitter(attribute)) {
        reader.fault(Finding::unknown_name, reader.span(atom), fmt::format("there is no palette `{}`", name))
            .with_hint(fmt::format(
                "for the emitter alone, write `emitter {} 40%`; for the colour, declare `palette {} …`", name,
                name));
        return;
    } else if (attribute != none) {
        const auto value = read_value(reader, name);
        if (!value) return;
        setting.kind = Setting::Kind::parameter;
        setting.what = attribute;
        setting.value = static_cast<Index>(scope_.show.values.size());
        scope_.show.values.push_back(*value);
        if (next_is_dots(reader)) return not_built(reader, reader.here(), "a spread over a selection");
    } else if (symbol != nullptr) {
        reader
            .fault(Finding::unexpected, reader.span(atom),
                   fmt::format("`{}` is a {}, and a setting is meant here", name, kind_text(symbol->kind)))
            .with_hint(fmt::format("to select both, put a comma between them: `{}, {}`", selection, name))
            .see(symbol->span, "declared here");
        return;
    } else if (name == "at" || name == "to" || name == "@") {
        reader
            .fault(Finding::unexpected, reader.span(atom),
                   fmt::format("`{}` is not needed before a level", name))
            .with_hint(fmt::format("write `{} 50%`", selection));
        return;
    } else {
        return scope_.report_unknown(scope_.rig, reader, atom, palettes_wanted,
                                     [](const Symbol& s) { return s.kind == Symbol::Kind::palette; });
    }
    setting.span = reader.since(place);
    scope_.show.settings.push_back(setting);
}

void StatementReader::read_colour_setting(Reader& reader) {
    const std::size_t place = reader.place();
    if (reader.take(Word::colour) || reader.take(Word::color)) {
        if (reader.next_is(AtomKind::word) && !next_is_colour(reader)) return read_word(reader, "");
        if (!next_is_colour(reader)) {
            reader.expected("a colour such as `#ffb000`, `xy 0.31 0.33` or `3200K`");
            return;
        }
    }
    const auto colour = read_colour(reader);
    if (!colour) return;
    if (next_is_dots(reader)) return not_built(reader, reader.here(), "a spread over a selection");
    Setting setting;
    note_colour(reader, reader.since(place));
    setting.kind = Setting::Kind::colour;
    setting.what = static_cast<Index>(scope_.show.colours.size());
    setting.span = reader.since(place);
    scope_.show.colours.push_back(*colour);
    scope_.show.settings.push_back(setting);
}

void StatementReader::read_emitter(Reader& reader) {
    const std::size_t place = reader.place() - 1;
    const auto name = reader.name("the name of an emitter");
    if (!name) return;
    Setting setting;
    setting.kind = Setting::Kind::emitter;
    setting.what = scope_.find_attribute(*name);
    if (setting.what == none || !scope_.is_emitter(setting.what)) {
        if (scope_.excused(*name)) return reader.mute();
        reader.fault(Finding::unknown_name, reader.last(), fmt::format("no type has an emitter `{}`", *name));
        return;
    }
    setting.level = reader.level().value_or(0);
    setting.span = reader.since(place);
    scope_.show.settings.push_back(setting);
}

void StatementReader::read_wave(Reader& reader) {
    const std::size_t place = reader.place() - 1;
    const Symbol* symbol = scope_.look_up(scope_.waves, reader, "wave",
                                          [](const Symbol& s) { return s.kind == Symbol::Kind::wave; });
    if (symbol == nullptr) return reader.mute();
    WaveUse use{symbol->index, scope_.show.waves[symbol->index].shape};
    const std::int64_t own_phase = std::exchange(use.shape.phase, 0);
    while (!reader.at_end() && !reader.muted() && read_shape_word(reader, use.shape)) {
    }
    use.shape.phase += own_phase;
    check_along(reader, use.shape);
    Setting setting;
    setting.kind = Setting::Kind::wave;
    setting.what = static_cast<Index>(scope_.show.wave_uses.size());
    setting.span = reader.since(place);
    scope_.show.wave_uses.push_back(std::move(use));
    scope_.show.settings.push_back(setting);
}

// A wave in metres needs to know where what it moves hangs.
void StatementReader::check_positions(Reader& reader, const Selection& selection, const Setting& setting) {
    const WaveShape& shape = scope_.show.wave_uses[setting.what].shape;
    if (!shape.along) return;
    for (const Element& e : selection.elements)
        if (!position_of(scope_.show, e, *shape.along) && can_take(scope_.show, e, setting))
            return report_no_position(scope_.show, reader, setting.span, e);
}

// What one member of a selection cannot take is skipped if another can; what none can is an error.
void StatementReader::check_taken(Reader& reader, const Selection& selection, const Statement& statement) {
    const Show& show = scope_.show;
    for (Index i = 0; i < statement.setting_count; ++i) {
        const Setting& setting = show.settings[statement.first_setting + i];
        if (setting.kind == Setting::Kind::wave) check_positions(reader, selection, setting);
        const bool taken = std::any_of(selection.elements.begin(), selection.elements.end(),
                                       [&](const Element& e) { return can_take(show, e, setting); });
        if (taken || selection.elements.empty()) continue;
        const Fixture& first = show.fixtures[selection.elements.front().fixture];
        const Type& type = show.type_of(first);
        const std::string said = std::string(scope_.sources.text(setting.span));
        const bool no_light = show.mode_of(first).parts[0].emitters.empty();
        std::string why = fmt::format("`{}` cannot take `{}`", selection.text, said);
        std::string hint;
        switch (setting.kind) {
            case Setting::Kind::colour:
            case Setting::Kind::palette:
                if (no_light) {
                    why = fmt::format("`{}` has no colour to set: `{}` is of the type `{}`", selection.text,
                                      fixture_text(first), type.name);
                    hint = fmt::format("give it a level alone: `{} 60%`", selection.text);
                }
                break;
            case Setting::Kind::level:
                why = fmt::format("`{}` has no intensity", selection.text);
                break;
            case Setting::Kind::emitter:
            case Setting::Kind::parameter: {
                const std::string& name = show.attributes[setting.what];
                const auto* ranges = type.ranges_of(setting.what);
                if (ranges == nullptr) {
                    why = fmt::format("`{}` has no `{}`", selection.text, name);
                    for (const ParameterDef& p : show.mode_of(first).parameters)
                        if (p.coarse != 0 &&
                            hint.find("`" + show.attributes[p.attribute] + "`") == std::string::npos)
                            hint += fmt::format("{}`{}`", hint.empty() ? "its mode has " : ", ",
                                                show.attributes[p.attribute]);
                } else {
                    why = fmt::format("the type `{}` has no such value of `{}`", type.name, name);
                    for (const Range& r : *ranges)
                        if (!r.name.empty() || r.unit != Unit::none)
                            hint += fmt::format("{}`{} {}`", hint.empty() ? "it has " : ", ", name,
                                                range_text(r));
                }
                break;
            }
            case Setting::Kind::wave:
                why = fmt::format("`{}` moves nothing that `{}` has", said, selection.text);
                break;
            case Setting::Kind::steady:
            case Setting::Kind::chase:
            case Setting::Kind::chase_off:
                break;
        }
        reader.fault(Finding::cannot_take, setting.span, std::move(why))
            .with_hint(std::move(hint))
            .see(first.span, fmt::format("`{}` is patched here", fixture_text(first)));
        return;
    }
}

}  // namespace tallow::show
