#include "runtime/duration.hpp"

#include <array>
#include <fmt/format.h>

#include "runtime/ascii.hpp"
#include "runtime/limits.hpp"

namespace tallow::runtime {
namespace {

struct Unit {
    std::string_view name;
    std::uint64_t ms;
};
constexpr std::array<Unit, 3> units{{{"min", 60000}, {"s", 1000}, {"ms", 1}}};

Status not_a_time(std::string_view text, std::string_view why) {
    return Status::failure(
        fmt::format("`{}` is not a time: {}; write it like `10s`, `250ms` or `1min30s`", text, why));
}

void skip_blanks(std::string_view& s) {
    while (!s.empty() && s.front() == ' ') s.remove_prefix(1);
}

// A number at the front of a text, as millionths; digits past the sixth decimal must be 0.
struct Number {
    std::uint64_t millionths = 0;
    bool found = false, decimal = false, exact = true;
};
Number take_number(std::string_view& s) {
    Number n;
    std::uint64_t worth = 1000000;
    for (; !s.empty(); s.remove_prefix(1)) {
        if (s.front() == '.' && n.found && !n.decimal) {
            n.decimal = true;
            continue;
        }
        if (!is_digit(s.front())) break;
        const std::uint64_t digit = static_cast<std::uint64_t>(s.front() - '0');
        n.found = true;
        if (n.decimal) {
            worth /= 10;
            n.exact = n.exact && (worth > 0 || digit == 0);
            n.millionths += digit * worth;
        } else if (n.millionths <= limits::time_ms * worth) {  // past that it is refused whatever follows
            n.millionths = n.millionths * 10 + digit * worth;
        }
    }
    return n;
}

}  // namespace

Result<std::uint64_t> parse_duration(std::string_view text) {
    std::string_view rest = text;
    std::uint64_t total = 0;
    std::size_t unit = 0;
    bool decimal = false;
    skip_blanks(rest);
    if (rest.empty()) return Status::failure("a time is missing; write one like `10s`, `250ms` or `1min30s`");
    for (; !rest.empty(); skip_blanks(rest)) {
        const Number n = take_number(rest);
        skip_blanks(rest);
        if (!n.found) return not_a_time(text, "a number is missing");
        if (decimal) return not_a_time(text, "only its last number may have decimals");
        decimal = n.decimal;
        std::size_t letters = 0;
        while (letters < rest.size() && rest[letters] >= 'a' && rest[letters] <= 'z') ++letters;
        const std::string_view name = rest.substr(0, letters);
        rest.remove_prefix(letters);
        if (name.empty()) return not_a_time(text, "it has no unit");
        while (unit < units.size() && units[unit].name != name) ++unit;
        if (unit == units.size()) return not_a_time(text, "its units are `min`, `s`, `ms`, in this order");
        if (n.millionths / 1000000 > limits::time_ms / units[unit].ms)
            return not_a_time(text, "it is longer than a week");
        const std::uint64_t scaled = n.millionths * units[unit].ms;
        if (!n.exact || scaled % 1000000 != 0) return not_a_time(text, "it is finer than a millisecond");
        total += scaled / 1000000;
        ++unit;
    }
    if (total > limits::time_ms) return not_a_time(text, "it is longer than a week");
    return total;
}

Result<std::vector<std::uint64_t>> parse_durations(std::string_view text) {
    std::vector<std::uint64_t> all;
    for (;;) {
        const std::size_t comma = text.find(',');
        const auto one = parse_duration(text.substr(0, comma));
        if (!one.ok()) return one.status();
        all.push_back(*one);
        if (comma == std::string_view::npos) return all;
        text.remove_prefix(comma + 1);
    }
}

std::string format_duration(std::uint64_t milliseconds) {
    const std::uint64_t minutes = milliseconds / 60000, rest = milliseconds % 60000,
                        thousandths = rest % 1000;
    std::string text = minutes > 0 ? fmt::format("{}min", minutes) : "";
    if (minutes == 0 && rest > 0 && rest < 1000) return fmt::format("{}ms", rest);
    if (minutes > 0 && rest == 0) return text;
    text += fmt::format("{}", rest / 1000);
    if (thousandths > 0) {
        std::string decimals = fmt::format(".{:03}", thousandths);
        decimals.erase(decimals.find_last_not_of('0') + 1);
        text += decimals;
    }
    return text + "s";
}

std::string rough_duration(std::uint64_t milliseconds) {
    const std::uint64_t s = milliseconds / 1000, minutes = s / 60;
    if (minutes == 0) return fmt::format("{}.{}s", s, milliseconds / 100 % 10);
    if (minutes < 60) return fmt::format("{}min {:02}s", minutes, s % 60);
    return fmt::format("{}h {:02}min {:02}s", minutes / 60, minutes % 60, s % 60);
}

std::string clock_time(std::uint64_t milliseconds) {
    const std::uint64_t s = milliseconds / 1000;
    return fmt::format("{}:{:02}:{:02}", s / 3600, s / 60 % 60, s % 60);
}

}  // namespace tallow::runtime
