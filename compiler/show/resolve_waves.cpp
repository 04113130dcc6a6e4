// `wave`: shapes over time, and what they move.
#include <algorithm>
#include <fmt/format.h>
#include <utility>

#include "compiler/show/bounds.hpp"
#include "compiler/show/points.hpp"
#include "compiler/show/steps.hpp"
#include "compiler/show/values.hpp"
#include "compiler/text/decimal.hpp"

namespace tallow::show {
namespace {

using text::million;

constexpr std::int64_t whole_turn = 100 * million;  // in millionths of a percent

bool read_form(Reader& reader, Shape& shape) {
    constexpr std::pair<Word, Shape> forms[] = {
        {Word::sine, Shape::sine},    {Word::triangle, Shape::triangle}, {Word::rise, Shape::rise},
        {Word::fall, Shape::fall},    {Word::square, Shape::square},     {Word::flicker, Shape::flicker},
        {Word::points, Shape::points}};
    for (const auto& [word, form] : forms)
        if (reader.take(word)) {
            shape = form;
            return true;
        }
    return false;
}

void read_travel(Reader& reader, Travel& travel) {
    constexpr std::pair<Word, Travel> ways[] = {{Word::forward, Travel::forward},
                                                {Word::backward, Travel::backward},
                                                {Word::outward, Travel::outward},
                                                {Word::inward, Travel::inward},
                                                {Word::scattered, Travel::scattered}};
    for (const auto& [word, way] : ways)
        if (reader.take(word)) {
            travel = way;
            return;
        }
    reader.expected("`forward`, `backward`, `outward`, `inward` or `scattered`");
}

class WaveReader {
  public:
    explicit WaveReader(Scope& scope) : scope_(scope) {}

    void read(const Place& place) {
        Reader header = scope_.header(place);
        const auto name = scope_.new_name(header, "the name of the wave");
        if (!name) return;
        wave_ = {};
        wave_.name = *name;
        wave_.span = header.last();
        if (header.next_is(AtomKind::string)) wave_.label = read_label(header);
        read_header(header);
        bool broken = header.muted();
        scope_.each_line(place, [&](Reader& line) {
            read_component(line);
            line.expect_end();
            broken = broken || line.muted();
        });
        if (wave_.components.empty() && !broken) {
            header
                .fault(Finding::empty_wave, wave_.span,
                       fmt::format("the wave `{}` moves nothing", wave_.name))
                .with_hint("say between which ends, on an indented line: `intensity 30% .. full`");
            broken = true;
        }
        const auto kind = broken ? Symbol::Kind::broken : Symbol::Kind::wave;
        if (scope_.declare(scope_.waves, header,
                           {kind, static_cast<Index>(scope_.show.waves.size()), wave_.span, wave_.name}))
            scope_.show.waves.push_back(std::move(wave_));
    }

  private:
    void read_header(Reader& header) {
        ShapeReader shape(wave_.shape);
        if (!read_form(header, wave_.shape.shape))
            header.expected(
                "a waveform: `sine`, `triangle`, `rise`, `fall`, `square`, `flicker` or `points`");
        if (wave_.shape.shape == Shape::points && !header.muted())
            wave_.shape.points = read_points(header, "a place in the turn");
        while (!header.at_end() && !header.muted()) {
            if (!shape.read_word(header))
                header.expected("`period`, `wavelength`, `travel`, `phase`, `duty`, `seed` or `swing`");
        }
        if (!shape.has_period()) header.expected("the time of one turn, such as `period 6s`,");
        shape.settle(header);
    }

    void read_component(Reader& reader) {
        const std::size_t place = reader.place();
        Component c;
        if (reader.take(Word::hue)) {
            read_hue(reader, c);
        } else if (reader.take(Word::colour) || reader.take(Word::color)) {
            c.kind = Kind::colour;
            c.low_colour = read_colour_end(reader);
            read_dots(reader);
            c.high_colour = read_colour_end(reader);
        } else {
            const auto name = reader.name("`intensity`, `colour`, an emitter or a parameter");
            if (!name) return;
            c.attribute = scope_.find_attribute(*name);
            if (c.attribute == none) {
                if (scope_.excused(*name)) return reader.mute();
                reader
                    .fault(Finding::unknown_name, reader.last(),
                           fmt::format("no type has an emitter or parameter `{}`", *name))
                    .with_hint(
                        "a wave moves `intensity`, `colour`, an emitter such as `red`, or a parameter such "
                        "as `pan`");
                return;
            }
            c.kind = *name == "intensity"                ? Kind::intensity
                     : scope_.is_emitter(c.attribute)    ? Kind::colour
                     : *name == "pan" || *name == "tilt" ? Kind::position
                                                         : Kind::beam;
            const auto low = read_end(reader, *name, c.kind);
            if (!low) return;
            read_dots(reader);
            const auto high = read_end(reader, *name, c.kind);
            if (!high) return;
            c.low = *low;
            c.high = *high;
        }
        if (reader.take(Word::phase))
            c.phase = reader.measure(Unit::degree, "a phase", "120deg", -36000, 36000).value_or(0);
        c.span = reader.since(place);
        check_once(reader, c);
        if (!reader.muted()) wave_.components.push_back(c);
    }

    // `0deg .. 360deg`, perhaps with `saturation 70%`.
    void read_hue(Reader& reader, Component& c) {
        if (wave_.shape.shape == Shape::flicker) {
            reader.fault(Finding::unexpected, reader.last(), "a flicker jumps about, and a hue turns")
                .with_hint(
                    "take another waveform, or let the flicker go between two colours: `colour amber .. "
                    "red`");
            return;
        }
        c.kind = Kind::colour;
        c.hue = true;
        for (Value* end : {&c.low, &c.high}) {
            if (end == &c.high) read_dots(reader);
            const auto degrees = reader.measure(Unit::degree, "a hue", "200deg", -36000, 36000);
            if (!degrees) return;
            end->form = Value::Form::measure;
            end->unit = Unit::degree;
            end->measure = *degrees;
        }
        check_turning(reader, std::abs(c.high.measure - c.low.measure));
        if (reader.take(Word::saturation))
            c.saturation = reader.measure(Unit::percent, "a saturation", "70%", 0, 100).value_or(whole_turn);
    }

    // Each degree takes room in a roll: the ends lie a turn apart at the most, and points go over that twice.
    void check_turning(Reader& reader, std::int64_t apart) {
        if (apart > 360 * text::million)
            reader
                .fault(Finding::out_of_range, reader.last(),
                       fmt::format("these hues are {} degrees apart; a wave turns once at the most",
                                   text::decimal(apart)))
                .with_hint("for further turns in the same time, give the wave a shorter period");
        const auto& points = wave_.shape.points;
        std::int64_t levels = 0;  // the way up and down, back to the first point
        for (std::size_t i = 0; i < points.size(); ++i)
            levels += std::abs(points[i].level - points[(i + 1) % points.size()].level);
        if (levels > 2 * runtime::full || points.size() > hue_points_at_most)
            reader
                .fault(Finding::too_many, reader.last(),
                       fmt::format("the points of a wave that turns the hue may be {}, and go up and down "
                                   "once between them",
                                   hue_points_at_most))
                .with_hint("let the wave move `colour A .. B` instead, or split it over several cues");
    }

    // What a wave moves is moved by one of its lines.
    void check_once(Reader& reader, const Component& c) {
        for (const Component& other : wave_.components)
            if (other.kind == c.kind && other.attribute == c.attribute) {
                reader.fault(Finding::repeated_word, c.span, "another line of the wave moves this already")
                    .with_hint("keep one of them, or write a second wave")
                    .see(other.span, "here");
                return;
            }
    }

    static void read_dots(Reader& reader) {
        if (!reader.take(AtomKind::dots)) reader.expected("`..` and the other end");
    }

    static std::optional<Value> read_end(Reader& reader, const std::string& name, Kind kind) {
        if (reader.muted()) return std::nullopt;
        const std::size_t place = reader.place();
        auto value = read_value(reader, name);
        if (!value) return std::nullopt;
        const bool level = value->form == Value::Form::level;
        if ((kind == Kind::intensity || kind == Kind::colour) && (!level || value->measure < 0)) {
            reader
                .fault(Finding::wrong_unit, reader.since(place),
                       fmt::format("the ends of a wave over `{}` are levels", name))
                .with_hint("such as `30% .. full`");
            return std::nullopt;
        }
        return value;
    }

    // A palette or a colour as it is written, as an entry of Show::settings.
    Index read_colour_end(Reader& reader) {
        if (reader.muted()) return none;
        Setting setting;
        const std::size_t place = reader.place();
        if (next_is_colour(reader)) {
            const auto colour = read_colour(reader);
            if (!colour) return none;
            setting.kind = Setting::Kind::colour;
            setting.what = static_cast<Index>(scope_.show.colours.size());
            scope_.show.colours.push_back(*colour);
        } else {
            const Symbol* symbol = scope_.look_up(scope_.rig, reader, "palette", [](const Symbol& s) {
                return s.kind == Symbol::Kind::palette;
            });
            if (symbol == nullptr) {
                reader.mute();
                return none;
            }
            if (!scope_.show.palettes[symbol->index].coloured) {
                reader
                    .fault(Finding::unexpected, reader.last(),
                           fmt::format("the palette `{}` holds no colour", symbol->name))
                    .see(symbol->span, "declared here");
                return none;
            }
            setting.kind = Setting::Kind::palette;
            setting.what = symbol->index;
        }
        setting.span = reader.since(place);
        scope_.show.settings.push_back(setting);
        return static_cast<Index>(scope_.show.settings.size() - 1);
    }

    Scope& scope_;
    Wave wave_;
};

}  // namespace

void ShapeReader::read_wavelength(Reader& reader) {
    const auto q = reader.quantity();
    if (!q) {
        reader.expected("how many members lie from crest to crest, such as `wavelength 8`");
        return;
    }
    if (q->unit != Unit::none && q->unit != Unit::metre) {
        reader.fault(Finding::wrong_unit, q->span, "a wavelength counts members, or metres along an axis")
            .with_hint(
                fmt::format("write `wavelength {0}`, or `wavelength {0}m along x`", text::decimal(q->value)));
        return;
    }
    if (q->value <= 0)
        reader.fault(Finding::out_of_range, q->span, "a wavelength is above 0")
            .with_hint("for the other way, write `travel backward`");
    shape_.wavelength = q->value;
    shape_.metres = q->unit == Unit::metre;
    if (!shape_.metres) shape_.along.reset();
}

bool ShapeReader::read_word(Reader& reader) {
    constexpr Word words[] = {Word::period, Word::wavelength, Word::along, Word::travel,
                              Word::phase,  Word::duty,       Word::seed,  Word::swing};
    const auto at = std::find_if(std::begin(words), std::end(words), [&](Word w) { return reader.take(w); });
    if (at == std::end(words)) return false;
    reader.once(said_[at - std::begin(words)], grammar::text(*at));
    switch (*at) {
        case Word::period: {
            const auto period = reader.time();
            if (period && *period == 0)
                reader.fault(Finding::out_of_range, reader.last(), "a period is above 0");
            shape_.period = std::max<std::uint64_t>(period.value_or(1000), 1);
            break;
        }
        case Word::wavelength:
            read_wavelength(reader);
            break;
        case Word::along:
            shape_.along = take_axis(reader);
            if (!shape_.along) reader.expected("`x`, `depth` or `height`");
            break;
        case Word::travel:
            read_travel(reader, shape_.travel);
            break;
        case Word::phase:
            shape_.phase = reader.measure(Unit::degree, "a phase", "120deg", -36000, 36000).value_or(0);
            break;
        case Word::duty:
            if (shape_.shape != Shape::square)
                reader.fault(Finding::unexpected, reader.last(), "`duty` is a word of `square` waves")
                    .with_hint("it says for how much of each turn a square wave is at its high end");
            shape_.duty = reader.measure(Unit::percent, "a duty", "30%", 0, 100).value_or(whole_turn / 2);
            break;
        case Word::seed:
            shape_.seed = reader.count("a seed", 0, 1'000'000'000).value_or(0);
            break;
        default:
            shape_.swing = reader.measure(Unit::percent, "a swing", "50%", 0, 100).value_or(whole_turn);
    }
    return true;
}

void ShapeReader::settle(Reader& reader) const {
    if (shape_.metres && !shape_.along)
        reader.expected("`along x`, `along depth` or `along height`, which a wavelength in metres needs,");
    else if (shape_.along && !shape_.metres)
        reader.fault(Finding::unexpected, reader.last(), "`along` stands with a wavelength in metres")
            .with_hint("write `wavelength 10m along x`");
}

void resolve_waves(Scope& scope) {
    WaveReader reader(scope);
    for (const Place& place : scope.declarations(Word::wave)) reader.read(place);
}

}  // namespace tallow::show
