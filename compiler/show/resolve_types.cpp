// `type`: emitters, modes, ranges, homes, and what a fixture needs for power and data.
#include <algorithm>
#include <fmt/format.h>
#include <utility>

#include "compiler/colour/typical.hpp"
#include "compiler/show/bounds.hpp"
#include "compiler/show/mode_layout.hpp"
#include "compiler/show/scope.hpp"
#include "compiler/show/steps.hpp"
#include "compiler/show/values.hpp"
#include "compiler/text/utf8.hpp"
#include "runtime/limits.hpp"

namespace tallow::show {
namespace {

constexpr std::uint32_t slots = runtime::limits::slots;

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
        for (Listing& mode : modes_) finish(mode);
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
    struct Listing {
        Mode mode;
        std::vector<Slot> slots;
    };
    struct Home {
        Index attribute;
        Value value;
        Span span;
    };

    void read_line(Reader& reader) {
        const bool in_mode = std::exchange(in_mode_, false);  // a mode may go on in further lines
        if (reader.take(Word::emitter))
            read_emitter(reader);
        else if (reader.take(Word::mode))
            read_mode(reader);
        else if (reader.take(Word::range))
            read_ranges(reader);
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
            go_on(reader);
        else
            reader.expected("`emitter`, `mode`, `range`, `home`, `supply`, `draws`, `plug` or `length`");
        reader.expect_end();
        type_.broken = type_.broken || reader.muted();
    }

    void read_emitter(Reader& reader) {
        const auto name = reader.name("the name of an emitter");
        if (!name) return;
        const Span span = reader.last();
        const colour::TypicalEmitter* typical = colour::typical(*name);
        Emitter e{*name, {}, true, false};
        if (typical != nullptr) e = {*name, typical->emitter, typical->visible, false};
        bool placed = typical != nullptr, bright = typical != nullptr;
        while (!reader.at_end() && !reader.muted()) {
            if (reader.take(Word::xy)) {
                const auto xy = read_xy(reader);
                if (!xy) return;
                e.light.xy = *xy;
                placed = e.measured = e.visible = true;
                if (typical != nullptr && !typical->visible) bright = false;
            } else {
                const auto lumens = reader.measure(Unit::lumen, "a flux", "95 lm", 0, 1'000'000);
                if (!lumens) return;
                if (*lumens == 0) {
                    reader.fault(Finding::out_of_range, reader.last(),
                                 "an emitter with measured light has a flux above 0");
                    return;
                }
                e.light.lumens = static_cast<double>(*lumens) * 1e-6;
                bright = true;
            }
        }
        if (e.visible && (!placed || !bright)) {
            reader
                .fault(Finding::expected, span,
                       fmt::format("the emitter `{}` has no {}, and there is no typical value for it", *name,
                                   placed ? "flux" : "chromaticity"))
                .with_hint(
                    fmt::format("write `emitter {}  xy 0.31 0.33  100 lm`, from its data sheet", *name));
            return;
        }
        if (std::any_of(type_.emitters.begin(), type_.emitters.end(),
                        [&](const Emitter& o) { return o.name == *name; })) {
            reader.fault(Finding::name_taken, span,
                         fmt::format("the type has an emitter `{}` already", *name));
            return;
        }
        said_.emplace_back(scope_.attribute(*name), span);
        type_.emitters.push_back(std::move(e));
    }

    // A line behind a mode lists more slots, unless its first word looks like one that begins a type's line.
    static bool misspelt(Reader& reader) {
        if (!reader.next_is(AtomKind::word)) return false;
        const std::string name = reader.name_text(*reader.peek());
        for (const Word word : {Word::emitter, Word::mode, Word::range, Word::home, Word::supply, Word::draws,
                                Word::plug, Word::length}) {
            if (name.size() < 4 || text::edit_distance(name, grammar::text(word), 1) > 1) continue;
            reader.expected("a line of a type")
                .with_hint(fmt::format("did you mean `{}`?", grammar::text(word)));
            return true;
        }
        return false;
    }

    void go_on(Reader& reader) {
        in_mode_ = true;
        read_slots(reader, modes_.back());
    }

    void read_mode(Reader& reader) {
        const auto name = reader.name("the name of a mode");
        if (!name) return;
        const Span span = reader.last();
        const bool taken =
            std::any_of(modes_.begin(), modes_.end(), [&](const Listing& l) { return l.mode.name == *name; });
        if (taken)
            reader.fault(Finding::name_taken, span, fmt::format("the type has a mode `{}` already", *name));
        Mode mode;
        mode.name = *name;
        mode.span = span;
        modes_.push_back({std::move(mode), {}});
        go_on(reader);
    }

    // `6 x (` or `6x (`: how many cells, or none.
    std::optional<std::uint32_t> read_repeat(Reader& reader) {
        if (!reader.next_is(AtomKind::number)) return std::nullopt;
        const syntax::Atom& atom = *reader.peek();
        std::uint32_t count = 0;
        if (atom.unit() == Unit::unknown && reader.text(atom).ends_with('x')) {
            const std::string_view digits =
                reader.text(atom).substr(0, reader.text(atom).find_first_not_of("0123456789"));
            for (const char c : digits)
                count = count > slots ? count : count * 10 + static_cast<std::uint32_t>(c - '0');
            reader.take();
        } else {
            const auto said = reader.count("a number of cells", 1, slots);
            if (!said) return std::nullopt;
            count = *said;
            if (!reader.take(Word::x) && !reader.take(AtomKind::times)) {
                reader.expected("`x` and the slots of a cell between brackets");
                return std::nullopt;
            }
        }
        if (count < 1 || count > slots) {
            reader.fault(Finding::out_of_range, reader.last(),
                         fmt::format("a number of cells is a whole number from 1 to {}", slots));
            return std::nullopt;
        }
        return count;
    }

    void read_slots(Reader& reader, Listing& listing) {
        while (!reader.at_end() && !reader.muted()) {
            if (!reader.next_is(AtomKind::number)) {
                if (const auto slot = read_slot(reader)) listing.slots.push_back(*slot);
                continue;
            }
            const auto cells = read_repeat(reader);
            if (!cells) return;
            read_cells(reader, listing, *cells);
        }
        if (listing.slots.size() > slots) {
            reader.fault(Finding::out_of_range, listing.mode.span,
                         fmt::format("the mode `{}` has more than {} slots", listing.mode.name, slots));
            listing.slots.resize(slots);
        }
    }

    void read_cells(Reader& reader, Listing& listing, std::uint32_t cells) {
        if (!reader.take(AtomKind::open_bracket)) {
            reader.expected("`(` and the slots of a cell");
            return;
        }
        std::vector<Slot> one;
        while (!reader.at_end() && !reader.next_is(AtomKind::close_bracket) && !reader.muted())
            if (const auto slot = read_slot(reader)) one.push_back(*slot);
        if (!reader.take(AtomKind::close_bracket)) {
            reader.expected("`)`");
            return;
        }
        if (one.empty() || listing.slots.size() + one.size() * cells > slots) {
            reader.fault(Finding::out_of_range, reader.last(),
                         one.empty() ? std::string("a cell has at least one slot")
                                     : fmt::format("a mode has {} slots at the most", slots));
            return;
        }
        for (std::uint32_t i = 0; i < cells; ++i) {
            ++listing.mode.cells;
            for (Slot slot : one) {
                slot.cell = listing.mode.cells;
                listing.slots.push_back(slot);
            }
        }
    }

    std::optional<Slot> read_slot(Reader& reader) {
        if (reader.take(AtomKind::dash)) return Slot{none, 0, false, reader.last()};
        if (reader.next_is(AtomKind::dotted)) {
            const std::string text = reader.name_text(reader.take());
            const std::size_t point = text.find('.');
            if (text.substr(point + 1) == "fine")
                return Slot{scope_.attribute(text.substr(0, point)), 0, true, reader.last()};
            reader.fault(Finding::unexpected, reader.last(), fmt::format("`{}` is no slot", text))
                .with_hint(
                    fmt::format("the fine byte of a 16-bit parameter is `{}.fine`", text.substr(0, point)));
            return std::nullopt;
        }
        if (reader.next_is(AtomKind::comma)) {
            reader.fault(Finding::unexpected, reader.here(),
                         "slots stand with blanks between them, without commas");
            return std::nullopt;
        }
        const auto name = reader.name("a slot such as `red`, `pan.fine` or `-`");
        if (!name) return std::nullopt;
        return Slot{scope_.attribute(*name), 0, false, reader.last()};
    }

    void read_ranges(Reader& reader) {
        const auto name = reader.name("the name of a parameter");
        if (!name) return;
        const Index attribute = scope_.attribute(*name);
        said_.emplace_back(attribute, reader.last());
        auto at = std::find_if(type_.ranges.begin(), type_.ranges.end(),
                               [&](const AttributeRanges& a) { return a.attribute == attribute; });
        if (at == type_.ranges.end()) at = type_.ranges.insert(type_.ranges.end(), {attribute, {}});
        if (reader.at_end()) reader.expected("a range such as `open 0..9` or `is 0deg..540deg`");
        while (!reader.at_end() && !reader.muted()) {
            const auto range = read_range(reader);
            if (!range) return;
            for (const Range& other : at->ranges)
                if (range->from <= other.to && other.from <= range->to) {
                    reader
                        .fault(Finding::bad_range, reader.last(),
                               fmt::format("slot value {} of `{}` lies in two ranges",
                                           std::max(range->from, other.from), *name))
                        .with_hint("end one range below the first value of the next");
                    return;
                }
            at->ranges.push_back(*range);
        }
    }

    std::optional<Range> read_range(Reader& reader) {
        const std::size_t place = reader.place();
        Range range;
        if (reader.next_is(AtomKind::word) && !reader.next_is(Word::is))
            range.name = reader.name_text(reader.take());
        if (reader.next_is_bare()) {
            const auto from = reader.count("a slot value", 0, 255);
            if (!from) return std::nullopt;
            if (!reader.take(AtomKind::dots)) {
                reader.expected("`..` and the last slot value of the range");
                return std::nullopt;
            }
            const auto to = reader.count("a slot value", 0, 255);
            if (!to) return std::nullopt;
            range.from = static_cast<std::uint8_t>(*from);
            range.to = static_cast<std::uint8_t>(*to);
            if (range.from > range.to) {
                reader.fault(Finding::bad_range, reader.since(place),
                             "a range goes from the lower slot value to the higher");
                return std::nullopt;
            }
        } else if (!reader.next_is(Word::is)) {
            reader.expected("slot values such as `0..9`, or a scale such as `is 1Hz..20Hz`");
            return std::nullopt;
        }
        if (reader.take(Word::is) && !read_scale(reader, range)) return std::nullopt;
        return range;
    }

    bool read_scale(Reader& reader, Range& range) {
        const auto low = read_value(reader, "is");
        if (!low) return false;
        if (!reader.take(AtomKind::dots)) {
            reader.expected("`..` and the other end of the scale");
            return false;
        }
        const auto high = read_value(reader, "is");
        if (!high) return false;
        if (low->form != Value::Form::measure || high->form != Value::Form::measure ||
            low->unit != high->unit) {
            reader.fault(Finding::bad_range, reader.last(), "both ends of a scale carry the same unit")
                .with_hint("such as `is 1Hz..20Hz`");
            return false;
        }
        range.unit = low->unit;
        range.low = low->measure;
        range.high = high->measure;
        return true;
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

    // Where the emitter of an attribute stands; one without data of its own is taken for a typical one.
    std::uint16_t emitter_of(Index attribute) {
        const std::string& name = scope_.show.attributes[attribute];
        const auto at = std::find_if(type_.emitters.begin(), type_.emitters.end(),
                                     [&](const Emitter& e) { return e.name == name; });
        if (at != type_.emitters.end()) return static_cast<std::uint16_t>(at - type_.emitters.begin());
        const colour::TypicalEmitter* typical = colour::typical(name);
        if (typical == nullptr) return no_place;
        type_.emitters.push_back({name, typical->emitter, typical->visible, false});
        return static_cast<std::uint16_t>(type_.emitters.size() - 1);
    }

    void finish(Listing& listing) {
        Reader header = scope_.reader(*place_.document, place_.header());
        if (listing.slots.empty() && !type_.broken)
            header
                .fault(Finding::no_mode, listing.mode.span,
                       fmt::format("the mode `{}` lists no slots", listing.mode.name))
                .with_hint(fmt::format("write `mode {}  red green blue`", listing.mode.name));
        lay_out(
            listing.mode, listing.slots, scope_.attribute("intensity"), scope_.attribute("pan"),
            scope_.attribute("tilt"), [&](Index attribute) { return emitter_of(attribute); },
            [&](Span where, std::string message, bool fine) {
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
    std::vector<Listing> modes_;
    std::vector<Home> homes_;
    std::vector<std::pair<Index, Span>> said_;  // attributes that lines of their own speak of
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
