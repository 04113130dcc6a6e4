// `palette`: named colours, emitter levels and positions.
#include <fmt/format.h>
#include <utility>

#include "compiler/show/not_taken.hpp"
#include "compiler/show/steps.hpp"
#include "compiler/show/values.hpp"

namespace tallow::show {
namespace {

class PaletteReader {
  public:
    PaletteReader(Scope& scope, Reader& reader) : scope_(scope), reader_(reader) {}

    // What stands on the line from here on.
    Palette read(Span span) {
        palette_.span = span;
        palette_.first_setting = static_cast<Index>(scope_.show.settings.size());
        if (reader_.at_end())
            reader_.expected(
                "a colour such as `#ffb000`, emitters such as `blue full`, or a position such as `pan "
                "12deg`");
        while (!reader_.at_end() && !reader_.muted()) read_one();
        palette_.setting_count = static_cast<Index>(scope_.show.settings.size()) - palette_.first_setting;
        return std::move(palette_);
    }

  private:
    void add(Setting setting, std::size_t place) {
        setting.span = reader_.since(place);
        scope_.show.settings.push_back(setting);
    }

    void read_one() {
        const std::size_t place = reader_.place();
        if (!reader_.take(Word::colour)) reader_.take(Word::color);
        if (next_is_colour(reader_)) {
            const auto colour = read_colour(reader_);
            if (!colour) return;
            if (std::exchange(palette_.coloured, true)) {
                reader_.fault(Finding::unexpected, reader_.since(place), "a palette has one colour");
                return;
            }
            Setting setting;
            setting.kind = Setting::Kind::colour;
            setting.what = static_cast<Index>(scope_.show.colours.size());
            scope_.show.colours.push_back(*colour);
            return add(setting, place);
        }
        reader_.take(Word::emitter);
        read_named(place);
    }

    void read_named(std::size_t place) {
        const auto name = reader_.name("a colour, an emitter or a parameter");
        if (!name) return;
        const Index attribute = scope_.find_attribute(*name);
        if (attribute == none) {
            if (scope_.excused(*name)) return reader_.mute();
            reader_
                .fault(Finding::unknown_name, reader_.last(),
                       fmt::format("no type has an emitter or parameter `{}`", *name))
                .with_hint(
                    "a palette holds a colour such as `#ffb000`, emitters such as `blue full green 20%`, or "
                    "values such as `pan 12deg`");
            return;
        }
        Setting setting;
        setting.what = attribute;
        if (scope_.is_emitter(attribute)) {
            setting.kind = Setting::Kind::emitter;
            setting.level = reader_.level().value_or(0);
            palette_.coloured = true;
        } else if (*name == "intensity") {
            reader_.fault(Finding::unexpected, reader_.last(),
                          "a palette holds no level: brightness stands beside it, where it is used");
            return;
        } else {
            const auto value = read_value(reader_, *name);
            if (!value) return;
            setting.kind = Setting::Kind::parameter;
            setting.value = static_cast<Index>(scope_.show.values.size());
            scope_.show.values.push_back(*value);
        }
        add(setting, place);
    }

    Scope& scope_;
    Reader& reader_;
    Palette palette_;
};

// `strobe 50%` must not have two meanings: a parameter's name is no palette's.
void check_ambiguous(const Scope& scope, Reader& reader, const std::string& name, Span span) {
    const Index attribute = scope.find_attribute(name);
    if (attribute == none || scope.is_emitter(attribute)) return;
    for (const Type& type : scope.show.types)
        for (const Mode& mode : type.modes)
            for (const ParameterDef& p : mode.parameters)
                if (p.attribute == attribute) {
                    reader
                        .fault(
                            Finding::ambiguous_name, span,
                            fmt::format("`{}` is a parameter of the type `{}`, and a line could mean either",
                                        name, type.name))
                        .with_hint(fmt::format("take another name, such as `{}-1`", name))
                        .see(type.span, "the type");
                    return;
                }
}

// What one line of a palette says goes over what the palette holds, value by value, and colour for colour.
Palette merged(Show& show, const Palette& whole, const Palette& line) {
    Palette both;
    both.span = line.span;
    both.name = whole.name;
    both.of_fixtures = true;
    both.coloured = whole.coloured || line.coloured;
    both.first_setting = static_cast<Index>(show.settings.size());
    const auto setting = [&](const Palette& p, Index i) { return show.settings[p.first_setting + i]; };
    for (Index i = 0; i < whole.setting_count; ++i) {
        const Setting old = setting(whole, i);
        bool replaced = line.coloured && old.kind != Setting::Kind::parameter;
        for (Index k = 0; k < line.setting_count; ++k)
            replaced = replaced || (setting(line, k).kind == old.kind && setting(line, k).what == old.what &&
                                    old.kind == Setting::Kind::parameter);
        if (!replaced) show.settings.push_back(old);
    }
    for (Index k = 0; k < line.setting_count; ++k) show.settings.push_back(setting(line, k));
    both.setting_count = static_cast<Index>(show.settings.size()) - both.first_setting;
    return both;
}

// A line may differ in what the palette says, and in nothing more.
void check_kinds(const Scope& scope, Reader& line, const Palette& whole, const Palette& said) {
    const Show& show = scope.show;
    for (Index i = 0; i < said.setting_count; ++i) {
        const Setting& own = show.settings[said.first_setting + i];
        const bool colour = own.kind != Setting::Kind::parameter;
        bool known = colour && whole.coloured;
        for (Index k = 0; k < whole.setting_count; ++k) {
            const Setting& old = show.settings[whole.first_setting + k];
            known = known || (old.kind == own.kind && old.what == own.what && !colour);
        }
        if (known) continue;
        line.fault(
                Finding::unexpected, own.span,
                fmt::format("the palette has no {} that could differ",
                            colour ? std::string("colour") : fmt::format("`{}`", show.attributes[own.what])))
            .with_hint("say it in the palette's first line too, for all others")
            .see(whole.span, "the palette");
        return;
    }
}

// `mover 2  pan -14deg  tilt -31deg`: these fixtures differ.
void read_line(Scope& scope, Selector& selector, Reader& line, Palette& palette) {
    Statement differing;
    differing.selection = selector.read(line);
    if (differing.selection == none) return;
    const Span selected = line.since(0);
    const Palette said = PaletteReader(scope, line).read(line.whole());
    check_kinds(scope, line, palette, said);
    for (const Element& e : scope.show.selections[differing.selection].elements) {
        const std::string fixture = fixture_text(scope.show.fixtures[e.fixture]);
        if (e.cell != 0)
            line.fault(Finding::unexpected, selected, "a palette differs by fixtures")
                .with_hint(fmt::format("name the fixture, `{}`: its cells take what it takes", fixture));
        else if (palette.differs.contains({e.fixture, e.cell}))
            line.fault(Finding::name_taken, selected,
                       fmt::format("`{}` has a line in this palette already", fixture));
    }
    if (line.muted() || scope.show.selections[differing.selection].broken) return;
    differing.first_setting = said.first_setting;
    differing.setting_count = said.setting_count;
    check_taken(scope, line, differing);
    if (line.muted()) return;
    const auto index = static_cast<Index>(scope.show.palettes.size());
    scope.show.palettes.push_back(merged(scope.show, palette, said));
    for (const Element& e : scope.show.selections[differing.selection].elements)
        palette.differs.insert_or_assign({e.fixture, e.cell}, index);
}

}  // namespace

void resolve_palettes(Scope& scope, Selector& selector) {
    for (const Place& place : scope.declarations(Word::palette)) {
        Reader header = scope.header(place);
        const auto name = scope.new_name(header, "the name of the palette");
        if (!name) continue;
        const Span span = header.last();
        check_ambiguous(scope, header, *name, span);
        Palette palette = PaletteReader(scope, header).read(span);
        palette.name = *name;
        scope.each_line(place, [&](Reader& line) {
            if (!header.muted()) read_line(scope, selector, line, palette);
        });
        const auto kind = header.muted() ? Symbol::Kind::broken : Symbol::Kind::palette;
        if (!scope.declare(scope.rig, header,
                           {kind, static_cast<Index>(scope.show.palettes.size()), span, *name}))
            continue;
        scope.show.palettes.push_back(std::move(palette));
    }
}

}  // namespace tallow::show
