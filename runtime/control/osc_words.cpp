#include "runtime/control/osc_words.hpp"

#include <algorithm>
#include <fmt/format.h>
#include <limits>
#include <optional>

#include "runtime/ascii.hpp"
#include "runtime/control/foreign_text.hpp"
#include "runtime/cue_number.hpp"
#include "runtime/duration.hpp"
#include "runtime/limits.hpp"

namespace tallow::runtime {
namespace {

using Kind = OscArgument::Kind;
using Arguments = std::vector<OscArgument>;

constexpr std::string_view root = "/tallow/";
constexpr std::string_view submaster = "submaster/";

Status failure(const OscMessage& message, std::string_view why) {
    return Status::failure(fmt::format("OSC `{}` is not obeyed: {}", shown(message.address), why));
}

// A number in hundred-thousandths; nothing for text, and for what is beyond ±1e9.
std::optional<std::int64_t> number(const OscArgument& a) {
    constexpr std::int64_t most = 1000000000;
    if (a.kind == Kind::fraction) return a.number;
    const bool whole = a.kind == Kind::integer || a.kind == Kind::truth;
    if (!whole || a.number < -most || a.number > most) return {};
    return a.number * osc_fraction_unit;
}

// 1 or 0, of a switch or a button.
std::optional<bool> truth(const OscArgument& a) {
    const auto n = number(a);
    if (!n || (*n != 0 && *n != osc_fraction_unit)) return {};
    return *n != 0;
}

bool is_word(const OscArgument& a) {
    return a.kind == Kind::text && is_plain_word(a.text);
}

std::string decimal(std::int64_t thousandths) {
    return cue_number(static_cast<std::uint32_t>(thousandths));  // written in the same way
}

// The one place where OSC's 0 to 1 becomes per cent, with three decimals.
std::optional<std::string> level(const OscArgument& a) {
    const auto n = number(a);
    if (!n || *n < 0 || *n > osc_fraction_unit) return {};
    return decimal(*n) + '%';
}

// Nearest thousandth of a number, as text; nothing for text, negative ones and what is beyond `most`.
std::optional<std::string> thousandths(const OscArgument& a, std::int64_t most) {
    const auto n = number(a);
    if (!n || *n < 0) return {};
    const std::int64_t rounded = (*n + 50) / 100;
    if (rounded > most) return {};
    return decimal(rounded);
}

using Words = Result<std::string>;

// `go`, `go "side"`; 1 is a button that is pressed, 0 one that is let go of.
Words press(const OscMessage& m, std::string_view word, bool of_list) {
    if (m.arguments.empty()) return std::string(word);
    const auto pressed = truth(m.arguments[0]);
    if (m.arguments.size() == 1 && pressed) return *pressed ? std::string(word) : std::string();
    if (m.arguments.size() == 1 && of_list && is_word(m.arguments[0]))
        return fmt::format("{} {}", word, m.arguments[0].text);
    return failure(m, of_list
                          ? "it has no argument, the name of a cue list, or a button's 1 or 0; to go to a "
                            "cue, send `/tallow/cue` with its number"
                          : "it has no argument, or a button's 1 or 0");
}

Words cue(const OscMessage& m) {
    const Status fault =
        failure(m, "it has a cue's number, such as 5, 12.5 or \"12.5\", and perhaps the name of a cue list");
    const Arguments& a = m.arguments;
    if (a.empty() || a.size() > 2 || (a.size() == 2 && !is_word(a[1]))) return fault;
    const auto n = is_word(a[0]) ? a[0].text : thousandths(a[0], std::numeric_limits<std::uint32_t>::max());
    if (!n) return fault;
    return a.size() == 1 ? "cue " + *n : fmt::format("cue {} {}", *n, a[1].text);
}

Words stop(const OscMessage& m) {
    std::string words = "stop";
    Arguments rest = m.arguments;
    if (!rest.empty() && is_word(rest[0])) {
        words += ' ' + rest[0].text;
        rest.erase(rest.begin());
    }
    if (rest.empty()) return words;
    const auto seconds = thousandths(rest[0], limits::time_ms);
    if (rest.size() > 1 || !seconds)
        return failure(m, "it has nothing, the name of a cue list, seconds, or both in this order");
    return fmt::format("{} {}s", words, *seconds);
}

Words turn(const OscMessage& m, std::string_view word) {
    if (m.arguments.empty()) return std::string(word);
    const auto on = truth(m.arguments[0]);
    if (m.arguments.size() > 1 || !on) return failure(m, "it has nothing, which turns it over, or 1 or 0");
    return fmt::format("{} {}", word, *on ? "on" : "off");
}

Words fader(const OscMessage& m, const std::string& words) {
    const auto to = m.arguments.size() == 1 ? level(m.arguments[0]) : std::nullopt;
    if (!to) return failure(m, "it has one level, from 0 to 1");
    return words + ' ' + *to;
}

Words timecode(const OscMessage& m) {
    if (m.arguments.size() == 1 && is_word(m.arguments[0])) return "timecode " + m.arguments[0].text;
    return failure(m, "it has one label, such as \"01:00:00:00\", or \"off\" or \"on\"");
}

bool is_pattern(std::string_view address) {
    return address.find_first_of("*?[]{}") != std::string_view::npos;
}

}  // namespace

Result<std::string> osc_words(const OscMessage& m) {
    if (is_pattern(m.address))
        return failure(
            m, "patterns are not matched, so that one message never does two things; send one for each");
    std::string_view name = m.address;
    if (!name.starts_with(root)) return failure(m, "the player's addresses begin with `/tallow/`");
    name.remove_prefix(root.size());
    if (name == "go" || name == "back" || name == "hold") return press(m, name, true);
    if (name == "pause" || name == "resume") return press(m, name, false);
    if (name == "cue") return cue(m);
    if (name == "stop") return stop(m);
    if (name == "blackout" || name == "panic") return turn(m, name);
    if (name == "grand") return fader(m, "grand");
    if (name == "timecode") return timecode(m);
    if (name.starts_with(submaster)) {
        const std::string_view which = name.substr(submaster.size());
        if (!which.empty() && which.size() < 10 && std::all_of(which.begin(), which.end(), is_digit))
            return fader(m, fmt::format("submaster {}", which));
    }
    return failure(m,
                   "there are `/tallow/go`, `back`, `cue`, `hold`, `stop`, `pause`, `resume`, "
                   "`submaster/1`, `grand`, `blackout`, `panic` and `timecode`");
}

}  // namespace tallow::runtime
