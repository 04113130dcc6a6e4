// `type`: emitters, modes, ranges, homes, and what a fixture needs for power and data.
#include <algorithm>
#include <fmt/format.h>
#include <utility>

#include "compiler/show/bounds.hpp"
#include "compiler/show/response.hpp"
#include "compiler/show/steps.hpp"
#include "compiler/show/type_light.hpp"
#include "compiler/show/type_modes.hpp"
#include "compiler/show/type_ranges.hpp"
#include "compiler/show/values.hpp"
#include "runtime/nearest.hpp"

namespace tallow::show {
namespace {

class TypeReader {
  public:
    TypeReader(Scope& scope, const Place& place) : scope_(scope), place_(place) {}

    void run() {
        Reader header = scope_.header(place_);
        const auto name = scope_.new_name(header, "the name of the type");
        type_.span = header.last();
        if (name) {
            type_.name = *name;
            type_.label = read_label(header);
            header.expect_end();
        }
        scope_.each_line(place_, [&](Reader& line) { read_line(line); });
        light_.settle(header);
        for (Listing& mode : modes_.modes()) finish(mode);
        type_.response = response_.add(scope_.show, header, type_);
        if (type_.modes.empty() && !type_.broken)
            header.fault(Finding::no_mode, type_.span, fmt::format("the type `{}` has no mode", type_.name))
                .with_hint("list the slots of one: `mode rgb  red green blue`");
        type_.broken = type_.broken || header.muted();
        if (!type_.broken) check_slots();
        apply_homes();
        if (!name || !scope_.declare(scope_.types, header,
                                     {Symbol::Kind::type, static_cast<Index>(scope_.show.types.size()),
                                      type_.span, type_.name}))
            return;
        scope_.show.types.push_back(std::move(type_));
    }

  private:
    struct Home {
        Index attribute;
        Value value;
        Span span;
    };

    void read_line(Reader& reader) {
        const bool in_mode = std::exchange(in_mode_, false);  // a mode may go on in further lines
        if (!response_.read_words(reader)) read_other_line(reader, in_mode);
        reader.expect_end();
        type_.broken = type_.broken || reader.muted();
    }

    void read_other_line(Reader& reader, bool in_mode) {
        if (reader.take(Word::emitter))
            light_.read_emitter(reader);
        else if (reader.take(Word::filters))
            light_.read_filters(reader);
        else if (reader.take(Word::wheel))
            light_.read_wheel(reader);
        else if (reader.take(Word::mode))
            in_mode_ = modes_.read(reader);
        else if (reader.take(Word::range))
            read_ranges(scope_, reader, type_, said_);
        else if (reader.take(Word::home))
            read_home(reader);
        else if (reader.take(Word::supply))
            read_supply(reader);
        else if (reader.take(Word::draws))
            read_draws(reader);
        else if (reader.take(Word::plug))
            read_plug(reader);
        else if (reader.take(Word::length))
            type_.length = reader.measure(Unit::metre, "a length", "1m", 0, 100).value_or(0);
        else if (in_mode && !misspelt(reader))
            in_mode_ = modes_.go_on(reader);
        else
            reader.expected(
                "`emitter`, `filters`, `wheel`, `mode`, `range`, `home`, `response`, `preheat`, `floor`, "
                "`supply`, `draws`, `plug` or `length`");
    }

    // A line behind a mode lists more slots, unless its first word looks like one that begins a type's line.
    static bool misspelt(Reader& reader) {
        if (!reader.next_is(AtomKind::word)) return false;
        const std::string name = reader.name_text(*reader.peek());
        for (const Word word : grammar::type_lines) {
            if (name.size() < 4 || runtime::edit_distance(name, grammar::text(word), 1) > 1) continue;
            reader.expected("a line of a type")
                .with_hint(fmt::format("did you mean `{}`?", grammar::text(word)));
            return true;
        }
        return false;
    }

    void read_home(Reader& reader) {
        const auto name = reader.name("the name of a parameter");
        if (!name) return;
        said_.emplace_back(scope_.attribute(*name), reader.last());
        const auto value = read_value(reader, *name);
        if (value) homes_.push_back({scope_.attribute(*name), *value, reader.whole()});
    }

    void read_supply(Reader& reader) {
        if (reader.take(Word::constant))
            type_.supply = Supply::constant;
        else if (reader.take(Word::dimmed))
            type_.supply = Supply::dimmed;
        else
            reader.expected("`constant` or `dimmed`");
    }

    void read_draws(Reader& reader) {
        type_.watts = reader.measure(Unit::watt, "an electrical load", "60W", 0, 100'000).value_or(0);
        if (!reader.take(Word::pf)) return;
        const auto factor = reader.quantity();
        if (!factor || factor->unit != Unit::none || factor->value <= 0 || factor->value > 1'000'000)
            reader
                .fault(Finding::out_of_range, reader.last(),
                       "a power factor is a bare number above 0, 1 at the most")
                .with_hint("write `pf 0.9`");
        else
            type_.power_factor = factor->value;
    }

    void read_plug(Reader& reader) {
        if (reader.take(Word::both))
            type_.plug = "both";
        else if (const auto pins = read_pins(reader))
            type_.plug = *pins;
        else
            reader.expected("`3-pin`, `5-pin` or `both`");
    }

    void finish(Listing& listing) {
        Reader header = scope_.reader(*place_.document, place_.header());
        if (listing.slots.empty() && !type_.broken)
            header
                .fault(Finding::no_mode, listing.mode.span,
                       fmt::format("the mode `{}` lists no slots", listing.mode.name))
                .with_hint(fmt::format("write `mode {}  red green blue`", listing.mode.name));
        SlotRoles roles{scope_.attribute("intensity"),
                        scope_.attribute("pan"),
                        scope_.attribute("tilt"),
                        type_.wheel.attribute,
                        type_.filtered(),
                        [&](Index attribute) { return light_.emitter_of(attribute); }};
        lay_out(listing.mode, listing.slots, roles, [&](Span where, std::string message, bool fine) {
            header.fault(fine ? Finding::fine_alone : Finding::slot_twice, where, std::move(message));
        });
        type_.broken = type_.broken || header.muted();
        for (ParameterDef& p : listing.mode.parameters)
            if (p.emitter != no_place) p.home = type_.emitters[p.emitter].visible ? runtime::full : Level{0};
        type_.modes.push_back(std::move(listing.mode));
    }

    // An emitter, a range or a home of something that no mode has is most likely misspelt.
    void check_slots() {
        for (const auto& [attribute, span] : said_) {
            const bool listed =
                std::any_of(type_.modes.begin(), type_.modes.end(), [&, a = attribute](const Mode& m) {
                    return std::any_of(m.parameters.begin(), m.parameters.end(),
                                       [&](const ParameterDef& p) { return p.attribute == a; });
                });
            if (listed) continue;
            scope_.sink
                .report(Finding::unknown_name, span,
                        fmt::format("no mode of the type `{}` has a slot `{}`", type_.name,
                                    scope_.show.attributes[attribute]))
                .with_hint("list it in a mode, or mend the name");
            type_.broken = true;
        }
    }

    void apply_homes() {
        const Value open{Value::Form::named, 0, Unit::none, 0, "open"};
        for (Mode& mode : type_.modes)
            for (ParameterDef& p : mode.parameters) {
                bool jumps = false;
                if (p.kind != Kind::intensity && p.kind != Kind::colour)
                    if (const auto level = level_of(type_, p.attribute, open, jumps)) p.home = *level;
                for (const Home& home : homes_)
                    if (home.attribute == p.attribute) set_home(p, home);
            }
    }

    void set_home(ParameterDef& p, const Home& home) {
        bool jumps = false;
        if (const auto level = level_of(type_, home.attribute, home.value, jumps)) {
            p.home = *level;
        } else if (!type_.broken) {
            scope_.sink
                .report(
                    Finding::bad_range, home.span,
                    fmt::format("`{}` has no such range or scale", scope_.show.attributes[home.attribute]))
                .with_hint(
                    fmt::format("declare it: `range {}  open 0..9`", scope_.show.attributes[home.attribute]));
            type_.broken = true;
        }
    }

    Scope& scope_;
    const Place& place_;
    Type type_;
    SaidOf said_;
    LightReader light_{scope_, type_, said_};
    ModeReader modes_{scope_};
    ResponseReader response_;
    std::vector<Home> homes_;
    bool in_mode_ = false;
};

}  // namespace

void resolve_types(Scope& scope) {
    bool told = false;
    for (const Place& place : scope.declarations(Word::type)) {
        if (scope.show.attributes.size() <= parameter_names_at_most) {
            TypeReader(scope, place).run();
            continue;
        }
        Reader header = scope.header(place);
        const auto name = scope.new_name(header, "the name of the type");
        if (name) scope.dropped.insert(*name);
        if (!std::exchange(told, true))
            header.fault(
                Finding::too_many, header.last(),
                fmt::format("the types of a show may have {} names of parameters", parameter_names_at_most));
    }
}

}  // namespace tallow::show
