#include "compiler/show/settings.hpp"

#include <array>
#include <fmt/format.h>
#include <utility>

#include "compiler/show/values.hpp"
#include "compiler/text/decimal.hpp"
#include "compiler/text/utf8.hpp"
#include "runtime/ascii.hpp"
#include "runtime/nearest.hpp"

namespace tallow::show {

void SettingReader::read() {
    const std::size_t place = reader_.place();
    auto first = read_end();
    if (!first || reader_.muted()) return;
    if (reader_.take(AtomKind::dots)) {
        const std::size_t behind = reader_.place();
        auto last = read_other_end(*first);
        if (!last || reader_.muted()) return;
        last->span = reader_.since(behind);
        check_ends(*first, *last, reader_.since(place));
        first->to = static_cast<Index>(scope_.show.ends.size());
        scope_.show.ends.push_back(*last);
    }
    first->span = reader_.since(place);
    note(*first);
    scope_.show.settings.push_back(*first);
}

std::optional<Setting> SettingReader::read_end() {
    if (reader_.next_is_level() || reader_.take(Word::intensity)) return read_level();
    if (reader_.take(Word::steady)) {
        Setting setting;
        setting.kind = Setting::Kind::steady;
        return setting;
    }
    if (reader_.take(Word::emitter)) return read_emitter();
    if (reader_.take(Word::colour) || reader_.take(Word::color)) {
        if (next_is_colour(reader_)) return read_colour_end();
        if (reader_.next_is(AtomKind::word)) return read_word();
        reader_.expected("a colour such as `#ffb000`, `xy 0.31 0.33` or `3200K`");
        return std::nullopt;
    }
    if (next_is_colour(reader_)) return read_colour_end();
    if (reader_.next_is(AtomKind::word)) return read_word();
    if (reader_.next_is_bare())
        report_bare();
    else if (reader_.next_is(AtomKind::comma))
        reader_.fault(Finding::unexpected, reader_.here(), "a comma joins fixtures, and no settings")
            .with_hint("one selection a line: write the second on a line of its own");
    else
        report_none();
    return std::nullopt;
}

std::optional<Setting> SettingReader::read_level() {
    Setting setting;
    setting.level = reader_.level().value_or(0);
    return setting;
}

// Behind its word: `red 40%`.
std::optional<Setting> SettingReader::read_emitter() {
    const auto name = reader_.name("the name of an emitter");
    if (!name) return std::nullopt;
    Setting setting;
    setting.kind = Setting::Kind::emitter;
    setting.what = scope_.find_attribute(*name);
    if (setting.what == none || !scope_.is_emitter(setting.what)) {
        if (scope_.excused(*name))
            reader_.mute();
        else
            reader_.fault(Finding::unknown_name, reader_.last(),
                          fmt::format("no type has an emitter `{}`", *name));
        return std::nullopt;
    }
    setting.level = reader_.level().value_or(0);
    return setting;
}

std::optional<Setting> SettingReader::read_colour_end() {
    const auto colour = read_colour(reader_);
    if (!colour) return std::nullopt;
    Setting setting;
    setting.kind = Setting::Kind::colour;
    setting.what = static_cast<Index>(scope_.show.colours.size());
    scope_.show.colours.push_back(*colour);
    return setting;
}

// A palette, or a parameter and its value.
std::optional<Setting> SettingReader::read_word() {
    const syntax::Atom& atom = reader_.take();
    const std::string name = reader_.name_text(atom);
    const Symbol* symbol = scope_.rig.find(name);
    const Index attribute = scope_.find_attribute(name);
    if (symbol != nullptr && symbol->kind == Symbol::Kind::palette) {
        Setting setting;
        setting.kind = Setting::Kind::palette;
        setting.what = symbol->index;
        return setting;
    }
    if (symbol != nullptr && symbol->kind == Symbol::Kind::broken)
        reader_.mute();
    else if (attribute != none && !scope_.is_emitter(attribute))
        return read_parameter(name, attribute);
    else
        report_word(atom, name);
    return std::nullopt;
}

std::optional<Setting> SettingReader::read_parameter(const std::string& name, Index attribute) {
    const auto value = read_value(reader_, name);
    if (!value) return std::nullopt;
    Setting setting;
    setting.kind = Setting::Kind::parameter;
    setting.what = attribute;
    setting.value = static_cast<Index>(scope_.show.values.size());
    scope_.show.values.push_back(*value);
    return setting;
}

// What stands behind `..`: of the same kind as the first end.
std::optional<Setting> SettingReader::read_other_end(const Setting& first) {
    switch (first.kind) {
        case Setting::Kind::level:
            return read_level();
        case Setting::Kind::emitter: {
            Setting last = first;
            last.level = reader_.level().value_or(0);
            return last;
        }
        case Setting::Kind::parameter:
            return read_parameter(scope_.show.attributes[first.what], first.what);
        case Setting::Kind::colour:
        case Setting::Kind::palette:
            if (next_is_colour(reader_)) return read_colour_end();
            if (reader_.next_is(AtomKind::word)) return read_word();
            reader_.expected("the colour or palette at the other end");
            return std::nullopt;
        default:
            reader_.fault(Finding::unexpected, reader_.last(), "nothing here has two ends");
            return std::nullopt;
    }
}

bool SettingReader::holds_colour(const Setting& setting) const {
    return setting.kind == Setting::Kind::colour ||
           (setting.kind == Setting::Kind::palette && scope_.show.palettes[setting.what].coloured);
}

// A spread goes from a colour to a colour, from values to values; a range's name is a place, and no way.
void SettingReader::check_ends(const Setting& first, const Setting& last, Span span) {
    const auto named = [&](const Setting& s) {
        return s.kind == Setting::Kind::parameter && scope_.show.values[s.value].form == Value::Form::named;
    };
    const auto unit = [&](const Setting& s) {
        return std::pair(scope_.show.values[s.value].form, scope_.show.values[s.value].unit);
    };
    const bool same = first.kind == last.kind || (holds_colour(first) && holds_colour(last));
    if (!same || holds_colour(first) != holds_colour(last))
        reader_.fault(Finding::wrong_unit, span, "the two ends of a spread are of different kinds")
            .with_hint("from a level to a level, from a colour to a colour: `20% .. 80%`, `amber .. 3200K`");
    else if (named(first) || named(last))
        reader_
            .fault(Finding::unexpected, span,
                   "a spread goes from a value to a value, not by the names of ranges")
            .with_hint("such as `zoom 10% .. 40%`");
    else if (first.kind == Setting::Kind::parameter && unit(first) != unit(last))
        reader_.fault(Finding::wrong_unit, span, "both ends of a spread carry the same unit")
            .with_hint("such as `10deg .. 40deg`");
}

// A line gives one level and one colour.
void SettingReader::note(const Setting& setting) {
    if (setting.kind == Setting::Kind::level && std::exchange(levelled_, true))
        reader_.fault(Finding::repeated_word, setting.span, "this line gives two levels")
            .with_hint("keep one of them");
    if (holds_colour(setting) && std::exchange(coloured_, true))
        reader_.fault(Finding::repeated_word, setting.span, "this line gives two colours")
            .with_hint("keep one of them");
}

// A word that is neither a palette nor a parameter.
void SettingReader::report_word(const syntax::Atom& atom, const std::string& name) {
    const Symbol* symbol = scope_.rig.find(name);
    if (symbol == nullptr && scope_.find_attribute(name) != none) {
        reader_
            .fault(Finding::unknown_name, reader_.span(atom), fmt::format("there is no palette `{}`", name))
            .with_hint(fmt::format(
                "for the emitter alone, write `emitter {} 40%`; for the colour, declare `palette {} …`", name,
                name));
    } else if (symbol != nullptr) {
        reader_
            .fault(Finding::unexpected, reader_.span(atom),
                   fmt::format("`{}` is a {}, and a setting is meant here", name, kind_text(symbol->kind)))
            .with_hint(fmt::format("to select both, put a comma between them: `{}, {}`", selection_, name))
            .see(symbol->span, "declared here");
    } else if (name == "at" || name == "to" || name == "@") {
        reader_
            .fault(Finding::unexpected, reader_.span(atom),
                   fmt::format("`{}` is not needed before a level", name))
            .with_hint(fmt::format("write `{} 50%`", selection_));
    } else {
        scope_.report_unknown(
            scope_.rig, reader_, atom, "palette or parameter",
            [](const Symbol& s) { return s.kind == Symbol::Kind::palette; }, near_setting(name));
    }
}

// The word or the parameter that a setting was most likely meant to begin with.
std::string SettingReader::near_setting(std::string_view written) const {
    for (const auto& [table, word] : {std::pair(&scope_.looks, "look"), std::pair(&scope_.waves, "wave")})
        if (table->find(written) != nullptr)
            return fmt::format("there is a {0} of this name: write `{1} {0} {2}`", word, selection_, written);
    constexpr std::array words{Word::full,  Word::out,        Word::dmx,     Word::dmx16, Word::colour,
                               Word::hue,   Word::saturation, Word::emitter, Word::wave,  Word::look,
                               Word::chase, Word::steady,     Word::fade,    Word::delay, Word::intensity};
    const std::string small = text::small_letters(written);
    if (small == "off" || small == "on")
        return fmt::format("write `{} {}`", selection_, small == "off" ? "out" : "full");
    runtime::Nearest nearest(small);
    for (const Word word : words) nearest.offer(grammar::text(word));
    for (Index a = 0; a < scope_.show.attributes.size(); ++a)
        if (!scope_.is_emitter(a)) nearest.offer(scope_.show.attributes[a]);
    return nearest.text().empty()
               ? std::string("a setting is a level such as `60%`, a palette, a parameter and its value, …")
               : nearest.question();
}

void SettingReader::report_bare() {
    const auto q = reader_.quantity();
    if (!q) return;
    const std::string number = text::decimal(q->value);
    auto& fault =
        reader_.fault(Finding::missing_unit, q->span, fmt::format("the level `{}` has no unit", number));
    const bool may_be_another = runtime::is_digit(selection_.back()) && number.find('.') == std::string::npos;
    fault.with_hint(
        may_be_another
            ? fmt::format("write `{0}, {1}` for both of them, or `{0} {1}%` for a level", selection_, number)
            : fmt::format("write `{} {}%`", selection_, number));
}

void SettingReader::report_none() {
    const Unit unit = reader_.at_end() ? Unit::none : reader_.peek()->unit();
    const std::string_view said = reader_.at_end() ? "" : reader_.text(*reader_.peek());
    if (unit == Unit::unknown)
        reader_
            .fault(Finding::unknown_unit, reader_.here(),
                   fmt::format("`{}` has a unit that the language does not know", said))
            .with_hint(fmt::format("for a level, write `{} {}%`", selection_,
                                   said.substr(0, said.find_first_not_of("0123456789.-"))));
    else if (is_time(unit))
        reader_.fault(Finding::wrong_unit, reader_.here(), fmt::format("the time `{}` stands alone", said))
            .with_hint(fmt::format("for this line's own time, write `fade {}`", said));
    else if (unit != Unit::none)
        reader_.expected("a setting such as `60%` or a palette")
            .with_hint("a value stands behind the name of its parameter, as in `pan 30deg` or `strobe 4Hz`");
    else
        reader_.expected("a setting such as `60%` or a palette");
}

}  // namespace tallow::show
