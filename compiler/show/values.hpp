// Reads values that several declarations share: a parameter's value, a colour, a unit of measure.
#pragma once

#include <optional>

#include "compiler/show/scope.hpp"

namespace tallow::show {

inline constexpr std::int64_t measure_limit = 1'000'000;  // whole units of a parameter's scale, either way

// Whether a unit is one of time.
constexpr bool is_time(grammar::Unit unit) {
    return unit == grammar::Unit::second || unit == grammar::Unit::millisecond ||
           unit == grammar::Unit::minute;
}

// A level, a quantity in a unit, or the name of a range. `what` is the parameter's name, for messages.
std::optional<Value> read_value(Reader& reader, std::string_view what);

// Whether the next atoms are a colour: `#ffb000`, `xy 0.3 0.3`, `3200K`, `hue 200deg`.
bool next_is_colour(const Reader& reader);
// Reads one; its chromaticity is valid.
std::optional<ColourTarget> read_colour(Reader& reader);
// `xy 0.31 0.33` behind its word.
std::optional<colour::Chromaticity> read_xy(Reader& reader);

struct Address {
    std::uint32_t universe = 1, slot = 1;
    auto operator<=>(const Address&) const = default;
};
std::string text_of(Address address);  // `1/500`
// Reads `1/500`; none after a fault.
std::optional<Address> read_address(Reader& reader);

// Reads `3-pin` or `5-pin`; anything else stays where it is.
std::optional<std::string> read_pins(Reader& reader);

// Whether the next atom is `..`, as in a spread.
bool next_is_dots(const Reader& reader);

}  // namespace tallow::show
