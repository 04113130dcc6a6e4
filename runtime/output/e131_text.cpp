#include "runtime/output/e131_text.hpp"

#include <algorithm>
#include <charconv>
#include <fmt/format.h>
#include <optional>

#include "runtime/limits.hpp"

namespace tallow::runtime {
namespace {

constexpr std::size_t name_bytes = 253;  // of a host (RFC 1035), with room for any address
constexpr std::uint32_t port_max = 65535;

// 1..most, in digits alone.
std::optional<std::uint16_t> read_number(std::string_view digits, std::uint32_t most) {
    std::uint32_t n = 0;
    const auto [end, error] = std::from_chars(digits.data(), digits.data() + digits.size(), n);
    if (error != std::errc() || end != digits.data() + digits.size() || n < 1 || n > most) return {};
    return static_cast<std::uint16_t>(n);
}

// "7" or "7..12".
std::optional<UniverseRange> read_range(std::string_view text) {
    const std::size_t dots = text.find("..");
    const auto from = read_number(text.substr(0, dots), limits::universe_max);
    if (!from || dots == std::string_view::npos)
        return from ? std::optional(UniverseRange{*from, *from}) : std::nullopt;
    const auto to = read_number(text.substr(dots + 2), limits::universe_max);
    if (!to || *to < *from) return {};
    return UniverseRange{*from, *to};
}

Status no_host(std::string_view text) {
    return Status::failure(
        fmt::format("`{}` is no host; write one name or address, and a port behind it if need be: "
                    "`10.0.0.7:{}`, `[fd00::7]:{}`; for another host give the option again",
                    text, e131_port, e131_port));
}

}  // namespace

Result<std::vector<UniverseRange>> parse_universes(std::string_view text) {
    std::vector<UniverseRange> ranges;
    for (std::size_t at = 0; at <= text.size();) {
        const std::size_t comma = std::min(text.find(',', at), text.size());
        const std::string_view part = text.substr(at, comma - at);
        const auto range = read_range(part);
        if (!range)
            return Status::failure(
                fmt::format("`{}` is neither a universe, 1..{}, nor a range of them; write like `1..400,500`",
                            part, limits::universe_max));
        ranges.push_back(*range);
        at = comma + 1;
    }
    return ranges;
}

Result<Host> parse_host(std::string_view text, std::uint16_t port) {
    std::string_view name = text, rest;
    if (text.starts_with('[')) {
        const std::size_t end = text.find(']');
        if (end == std::string_view::npos) return no_host(text);
        name = text.substr(1, end - 1);
        rest = text.substr(end + 1);
    } else if (std::count(text.begin(), text.end(), ':') == 1) {
        name = text.substr(0, text.find(':'));
        rest = text.substr(name.size());
    }
    const bool odd =
        std::any_of(name.begin(), name.end(), [](char c) { return (c >= 0 && c <= ' ') || c == ','; });
    if (name.empty() || name.size() > name_bytes || odd) return no_host(text);
    if (rest.empty()) return Host{std::string(name), port};
    const auto given = read_number(rest.substr(1), port_max);
    if (rest[0] != ':' || !given) return no_host(text);
    return Host{std::string(name), *given};
}

Result<IpVersions> parse_ip_versions(std::string_view text) {
    if (text == "4") return IpVersions{.v4 = true, .v6 = false};
    if (text == "6") return IpVersions{.v4 = false, .v6 = true};
    if (text == "both") return IpVersions{.v4 = true, .v6 = true};
    return Status::failure(fmt::format("`{}` is no version of IP; write `4`, `6` or `both`", text));
}

}  // namespace tallow::runtime
