#include "compiler/show/values.hpp"

#include <fmt/format.h>

#include "compiler/colour/spectral.hpp"
#include "compiler/colour/srgb.hpp"
#include "compiler/colour/temperature.hpp"
#include "compiler/text/decimal.hpp"
#include "runtime/limits.hpp"

namespace tallow::show {
namespace {

namespace limits = runtime::limits;

constexpr double of_million = 1e-6;
// Data sheets are rounded: so far in Δu′v′ a light may seem purer than the purest; own choice.
constexpr double rounded_data = .005;

std::uint8_t hex_byte(std::string_view digits) {
    unsigned value = 0;
    for (const char c : digits) {
        const int digit = c <= '9' ? c - '0' : (c | 0x20) - 'a' + 10;
        value = value * 16 + static_cast<unsigned>(digit);
    }
    return static_cast<std::uint8_t>(value);
}

std::optional<colour::Chromaticity> read_hex(Reader& reader) {
    const std::string_view text = reader.text(reader.take());
    const auto xy = colour::from_srgb(hex_byte(text.substr(1, 2)), hex_byte(text.substr(3, 2)),
                                      hex_byte(text.substr(5, 2)));
    if (!xy)
        reader
            .fault(Finding::bad_colour, reader.last(), "black is no colour of light: it has no chromaticity")
            .with_hint("for darkness, write the level `out`");
    return xy;
}

std::optional<colour::Chromaticity> read_temperature(Reader& reader) {
    const auto kelvin = reader.measure(Unit::kelvin, "a colour temperature", "3200K",
                                       static_cast<std::int64_t>(colour::kelvin_min),
                                       static_cast<std::int64_t>(colour::kelvin_max));
    if (!kelvin) return std::nullopt;
    return colour::from_temperature(static_cast<double>(*kelvin) * of_million);
}

std::optional<colour::Chromaticity> read_hue(Reader& reader) {
    const auto degrees = reader.measure(Unit::degree, "a hue", "200deg", -measure_limit, measure_limit);
    if (!degrees) return std::nullopt;
    std::int64_t saturation = 100 * text::million;
    if (reader.take(Word::saturation)) {
        const auto said = reader.measure(Unit::percent, "a saturation", "70%", 0, 100);
        if (!said) return std::nullopt;
        saturation = *said;
    }
    return colour::from_hue(static_cast<double>(*degrees) * of_million,
                            static_cast<double>(saturation) * of_million / 100);
}

}  // namespace

std::optional<Value> read_value(Reader& reader, std::string_view what) {
    Value value;
    if (reader.next_is_level()) {
        const auto level = reader.level();
        if (!level) return std::nullopt;
        value.level = *level;
        return value;
    }
    if (reader.next_is(AtomKind::word)) {
        value.form = Value::Form::named;
        value.name = reader.name_text(reader.take());
        return value;
    }
    if (!reader.next_is(AtomKind::number)) {
        reader.expected(fmt::format("a value for `{}`, such as `50%`,", what));
        return std::nullopt;
    }
    const auto q = reader.quantity();
    if (!q) return std::nullopt;
    if (q->unit == Unit::none || q->unit == Unit::unknown) {
        reader
            .fault(q->unit == Unit::none ? Finding::missing_unit : Finding::unknown_unit, q->span,
                   fmt::format("the value of `{}` needs a unit", what))
            .with_hint(fmt::format("write `{} {}%`, or `{} dmx {}` for a slot value", what,
                                   text::decimal(q->value), what, text::decimal(q->value)));
        return std::nullopt;
    }
    value.form = Value::Form::measure;
    value.unit = q->unit;
    value.measure = q->value;
    if (q->value < -measure_limit * text::million || q->value > measure_limit * text::million) {
        reader.fault(Finding::out_of_range, q->span,
                     fmt::format("a value goes from {} to {} of its unit", -measure_limit, measure_limit));
        return std::nullopt;
    }
    return value;
}

bool next_is_colour(const Reader& reader) {
    return reader.next_is(AtomKind::hex_colour) || reader.next_is(Word::xy) || reader.next_is(Word::hue) ||
           (reader.next_is(AtomKind::number) && reader.peek()->unit() == Unit::kelvin);
}

std::optional<colour::Chromaticity> read_xy(Reader& reader) {
    const std::size_t place = reader.place();
    std::int64_t part[2] = {};
    for (std::int64_t& p : part) {
        const std::size_t number = reader.place();
        const auto q = reader.quantity();
        if (!q || q->unit != Unit::none) {
            if (!q)
                reader.expected("a pair of numbers such as `xy 0.31 0.33`");
            else
                reader
                    .fault(Finding::wrong_unit, q->span,
                           fmt::format("`{}` is not a bare number, and a chromaticity is two of them",
                                       reader.text_since(number)))
                    .with_hint("write `xy 0.31 0.33`, without a unit and without an exponent");
            return std::nullopt;
        }
        if (reader.next_is(AtomKind::comma)) {
            reader
                .fault(Finding::decimal_comma, reader.here(),
                       "the two numbers of a chromaticity stand without a comma")
                .with_hint("write `xy 0.31 0.33`");
            return std::nullopt;
        }
        p = q->value;
    }
    const colour::Chromaticity xy{static_cast<double>(part[0]) * of_million,
                                  static_cast<double>(part[1]) * of_million};
    if (!colour::valid(xy)) {
        reader.fault(Finding::bad_colour, reader.since(place), "no light has this chromaticity")
            .with_hint("x is 0 or more, y is above 0, and both together are 1 at the most");
        return std::nullopt;
    }
    const colour::Chromaticity nearest = colour::nearest_light(xy);
    if (const double beyond = colour::distance_uv(xy, nearest); beyond > rounded_data) {
        reader
            .fault(Finding::bad_colour, reader.since(place),
                   fmt::format("no light has this chromaticity: it lies Δu′v′ {:.3f} beyond light of one "
                               "wavelength, the purest there is",
                               beyond))
            .with_hint(
                fmt::format("the nearest that light can have is `xy {:.4f} {:.4f}`", nearest.x, nearest.y));
        return std::nullopt;
    }
    return xy;
}

std::optional<ColourTarget> read_colour(Reader& reader) {
    const std::size_t place = reader.place();
    std::optional<colour::Chromaticity> xy;
    if (reader.next_is(AtomKind::hex_colour))
        xy = read_hex(reader);
    else if (reader.take(Word::xy))
        xy = read_xy(reader);
    else if (reader.take(Word::hue))
        xy = read_hue(reader);
    else
        xy = read_temperature(reader);
    if (!xy) return std::nullopt;
    return ColourTarget{*xy, std::string(reader.text_since(place))};
}

std::string text_of(Address address) {
    return fmt::format("{}/{}", address.universe, address.slot);
}

std::optional<Address> read_address(Reader& reader) {
    const auto universe = reader.count("a universe", limits::universe_min, limits::universe_max);
    if (!universe) return std::nullopt;
    if (!reader.take(AtomKind::slash)) {
        reader.expected("`/` and a slot, as in `1/500`,");
        return std::nullopt;
    }
    const auto slot = reader.count("a slot", 1, limits::slots);
    if (!slot) return std::nullopt;
    return Address{*universe, *slot};
}

std::optional<std::string> read_pins(Reader& reader) {
    const std::string pins = reader.next_is_bare() ? std::string(reader.text(*reader.peek())) : "";
    const bool known = (pins == "3" || pins == "5") && reader.next_is(AtomKind::dash, 1) &&
                       reader.next_is(AtomKind::word, 2) && reader.text(*reader.peek(2)) == "pin";
    if (!known) return std::nullopt;
    reader.go_to(reader.place() + 3);
    return pins + "-pin";
}

bool next_is_dots(const Reader& reader) {
    return reader.next_is(AtomKind::dots);
}

}  // namespace tallow::show
