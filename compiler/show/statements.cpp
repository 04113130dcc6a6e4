#include "compiler/show/statements.hpp"

#include <fmt/format.h>
#include <utility>

#include "compiler/show/bounds.hpp"
#include "compiler/show/not_taken.hpp"
#include "compiler/show/settings.hpp"
#include "compiler/text/decimal.hpp"
#include "runtime/engine/wide.hpp"

namespace tallow::show {

std::optional<Item> StatementReader::read(Reader& reader) {
    if (reader.next_is(Word::look)) return read_look(reader, none);
    if (reader.next_is(Word::chase)) return read_chase(reader);
    const std::size_t place = reader.place();
    now_ = {};
    now_.selection = selector_.read(reader);
    if (now_.selection == none) return std::nullopt;
    if (reader.next_is(Word::look)) return read_look(reader, now_.selection);
    now_.first_setting = static_cast<Index>(scope_.show.settings.size());
    const std::string& selection = scope_.show.selections[now_.selection].text;
    if (reader.at_end())
        reader
            .fault(Finding::no_setting, reader.whole(),
                   fmt::format("this line says nothing about `{}`", selection))
            .with_hint(fmt::format("add a setting: `{} 50%`", selection));
    SettingReader settings(scope_, reader, selection);
    while (!reader.at_end() && !reader.muted()) {
        if (reader.next_is(Word::wave))
            read_wave(reader);
        else if (reader.next_is(Word::look) || reader.next_is(Word::chase))
            report_misplaced(reader, selection);
        else if (!read_own_time(reader))
            settings.read();
    }
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
    if (now_.has_spread_times() &&
        scope_.show.selections[now_.selection].elements.size() > spread_times_at_most)
        reader.fault(Finding::too_many, now_.span,
                     fmt::format("times may be spread over {} members", spread_times_at_most));
    check_taken(scope_, reader, now_);
    return keep();
}

Item StatementReader::keep() {
    scope_.show.statements.push_back(now_);
    return Item{static_cast<Index>(scope_.show.statements.size() - 1), none, now_.span};
}

// A line's own fade or delay, perhaps spread over its selection: `delay 0s .. 2s`.
bool StatementReader::read_own_time(Reader& reader) {
    const bool fade = reader.next_is(Word::fade);
    if (!fade && !reader.next_is(Word::delay)) return false;
    reader.take();
    std::optional<OwnTime>& time = fade ? now_.fade : now_.delay;
    bool said = time.has_value();
    reader.once(said, fade ? "fade" : "delay");
    const auto from = reader.time();
    if (!from) return true;
    time = {*from, *from};
    if (!reader.take(AtomKind::dots)) return true;
    if (const auto to = reader.time()) time->to = *to;
    return true;
}

// `look NAME`, `look NAME 60%`; behind a selection only what concerns it.
std::optional<Item> StatementReader::read_look(Reader& reader, Index within) {
    reader.take();
    const Symbol* look = scope_.look_up(scope_.looks, reader, "look",
                                        [](const Symbol& s) { return s.kind == Symbol::Kind::look; });
    if (look == nullptr) return std::nullopt;
    Item item{none, look->index, reader.whole(), whole_scale, within};
    if (reader.next_is_level()) item.scale = read_scale(reader);
    reader.expect_end();
    if (reader.muted()) return std::nullopt;
    if (within != none) scope_.look_parts.push_back(item);
    return item;
}

// A percentage as it is written; other levels as their 16-bit value.
Scale StatementReader::read_scale(Reader& reader) {
    if (reader.next_is(AtomKind::number)) {
        const auto percent = reader.measure(Unit::percent, "a level", "60%", 0, 100);
        return static_cast<Scale>(percent.value_or(0)) * (whole_scale / (100 * text::million));
    }
    const runtime::UnsignedWide level = reader.level().value_or(0);
    return static_cast<Scale>((level * whole_scale + runtime::full / 2) / runtime::full);
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
    while (!reader.at_end() && !reader.muted())
        if (!read_own_time(reader)) reader.expected("`off`, `fade 2s` or `delay 1s`");
    if (reader.muted()) return std::nullopt;
    setting.span = now_.span = reader.whole();
    scope_.show.settings.push_back(setting);
    return keep();
}

void StatementReader::report_misplaced(Reader& reader, const std::string& selection) {
    const bool look = reader.next_is(Word::look);
    const std::string_view name = reader.peek(1) == nullptr ? "NAME" : reader.text(*reader.peek(1));
    if (look)
        reader
            .fault(Finding::unexpected, reader.here(),
                   "a part of a look stands alone behind its selection, without other settings")
            .with_hint(fmt::format("put it on a line of its own: `{} look {}`", selection, name));
    else
        reader
            .fault(
                Finding::unexpected, reader.here(),
                fmt::format("a chase names its fixtures itself, and none stands before it: `{}`", selection))
            .with_hint(fmt::format("write `chase {}` on a line of its own", name));
}

void StatementReader::read_wave(Reader& reader) {
    const std::size_t place = reader.place();
    reader.take();
    const Symbol* symbol = scope_.look_up(scope_.waves, reader, "wave",
                                          [](const Symbol& s) { return s.kind == Symbol::Kind::wave; });
    if (symbol == nullptr) return reader.mute();
    WaveUse use{symbol->index, scope_.show.waves[symbol->index].shape};
    const std::int64_t own_phase = std::exchange(use.shape.phase, 0);
    ShapeReader shape(use.shape);
    while (!reader.at_end() && !reader.muted() && shape.read_word(reader)) {
    }
    use.shape.phase += own_phase;
    shape.settle(reader);
    Setting setting;
    setting.kind = Setting::Kind::wave;
    setting.what = static_cast<Index>(scope_.show.wave_uses.size());
    setting.span = reader.since(place);
    scope_.show.wave_uses.push_back(std::move(use));
    scope_.show.settings.push_back(setting);
}

std::string_view foreign_in(const Show& show, const Item& item,
                            std::string_view (*foreign)(const Show& show, const Statement& line)) {
    std::string_view found;
    for_each_line(show, {item}, [&](const Statement& line, const ElementSet*) {
        if (found.empty()) found = foreign(show, line);
    });
    return found;
}

std::string_view moving_in(const Show& show, const Statement& line) {
    if (line.fade || line.delay) return "a time of its own line";
    for (Index i = 0; i < line.setting_count; ++i) {
        const Setting::Kind kind = show.settings[line.first_setting + i].kind;
        if (kind == Setting::Kind::chase || kind == Setting::Kind::chase_off) return "a chase";
        if (kind == Setting::Kind::wave) return "a wave";
        if (kind == Setting::Kind::steady) return "`steady`";
    }
    return "";
}

void check_look_parts(Scope& scope) {
    for (const Item& item : scope.look_parts) {
        const Selection& selection = scope.show.selections[item.within];
        bool any = selection.broken;
        for_each_line(scope.show, {item}, [&](const Statement&, const ElementSet*) { any = true; });
        if (any || scope.show.looks[item.look].items.empty()) continue;
        const Look& look = scope.show.looks[item.look];
        scope.sink
            .report(Finding::cannot_take, item.span,
                    fmt::format("nothing in the look `{}` concerns `{}`", look.name, selection.text))
            .see(look.span, "declared here");
    }
}

}  // namespace tallow::show
