#include <algorithm>
#include <fmt/format.h>

#include "compiler/palettes/writers.hpp"
#include "compiler/show/elements.hpp"
#include "compiler/text/decimal.hpp"
#include "compiler/text/utf8.hpp"
#include "compiler/text/wrap.hpp"
#include "runtime/engine/integers.hpp"

namespace tallow::palettes {
namespace {

constexpr std::size_t columns = 80, indent = 6, least_name = 12, most_name = 20;

constexpr const char* mark = " ~";  // behind a kind whose light rests on typical emitters

std::string padded(const std::string& words, std::size_t width) {
    const std::size_t has = text::width(words);
    return words + std::string(has < width ? width - has : 0, ' ');
}

std::string distance(std::optional<double> d) {
    return d ? fmt::format("{:.4f}", *d) : std::string("-");
}

// What prints as zero has no sign.
double no_minus_zero(double value) {
    return value > -0.00005 && value < 0 ? 0 : value;
}

std::string place(colour::Chromaticity xy) {
    const colour::Uv uv = colour::to_uv(xy);
    return fmt::format("{:.4f} {:.4f}  {:.4f} {:.4f}", xy.x, xy.y, uv.u, uv.v);
}

// `red 45.3% (116, 29687)`: a value of 8 bits, of 16 bits, or of both where modes in use have both.
std::string level_text(const std::string& name, runtime::Level level, const Kind::Depth& depth) {
    std::string slots;
    if (depth.bits_8) slots = fmt::format("{}", runtime::narrow(level));
    if (depth.bits_16) slots += fmt::format("{}{}", slots.empty() ? "" : ", ", level);
    return fmt::format("{} {:.1f}%{}", name, level / 655.35,
                       slots.empty() ? std::string() : fmt::format(" ({})", slots));
}

std::vector<std::string> level_parts(const Show& show, const Kind& kind, const Shown& shown) {
    const show::Type& type = show.types[kind.alike.type];
    if (shown.slot != show::none) {
        const show::Wheel::Slot& slot = type.wheel.slots[shown.slot];
        return {
            fmt::format("wheel {}: {}", slot.name,
                        level_text(show.attributes[type.wheel.attribute], slot.level, kind.depth.front()))};
    }
    std::vector<std::string> parts;
    for (std::size_t i = 0; i < shown.level.size(); ++i)
        parts.push_back(level_text(type.emitters[i].name, shown.level[i], kind.depth[i]));
    return parts;
}

// In lines that are cut behind a comma.
std::string levels_text(const Show& show, const Kind& kind, const Shown& shown) {
    const std::vector<std::string> parts = level_parts(show, kind, shown);
    std::string out, line;
    for (std::size_t i = 0; i < parts.size(); ++i) {
        const std::string part = parts[i] + (i + 1 < parts.size() ? "," : "");
        if (!line.empty() && indent + text::width(line) + 1 + text::width(part) > columns) {
            out += text::indented(line, indent, columns);
            line.clear();
        }
        line += (line.empty() ? "" : " ") + part;
    }
    return out + text::indented(line, indent, columns);
}

// What only some have: white, balancing, desks.
std::string more_text(const Show& show, const Report& report, const Shown& shown) {
    std::vector<std::string> parts;
    if (!shown.xy) parts.emplace_back("no light that shows");
    if (shown.white)
        parts.push_back(
            fmt::format("{:.0f} K, Duv {:+.4f}", shown.white->kelvin, no_minus_zero(shown.white->duv)));
    if (shown.kept < 1) parts.push_back(fmt::format("kept {:.1f}%", 100 * shown.kept));
    for (std::size_t d = 0; d < shown.desk.size(); ++d)
        if (shown.xy && shown.slot == show::none)
            parts.push_back(fmt::format("desk {} {}", show.desks[report.desks[d]].name,
                                        shown.desk[d] ? distance(shown.desk[d]) : "dark"));
    return fmt::format("{}", fmt::join(parts, "; "));
}

std::string row(const Show& show, const Report& report, const Shown& shown, std::size_t width) {
    const Kind& kind = report.kinds[shown.kind];
    std::string name = padded(kind.name + (shown.typical ? mark : ""), width);
    if (text::width(name) > width) name += fmt::format("\n{:{}}", "", width + 2);
    const std::string light = shown.share > 0 ? fmt::format("{:.0f}%", 100 * shown.share) : "-";
    const std::string lumens = shown.lumens > 0 ? fmt::format("{:.0f}", shown.lumens) : "-";
    std::string out = fmt::format(
        "  {}  {:<28} {:>6} {:>6} {:>6} {:>6}\n", name, shown.xy ? place(*shown.xy) : std::string("-"),
        distance(shown.off), light, lumens,
        shown.xy && shown.slot == show::none && !shown.in_8_bits ? "dark" : distance(shown.in_8_bits));
    out += levels_text(show, kind, shown);
    const std::string more = more_text(show, report, shown);
    return more.empty() ? out : out + text::indented(more, indent, columns);
}

std::string names(const Report& report, const Entry& entry, const std::vector<std::size_t>& which) {
    std::string all;
    for (const std::size_t i : which) all += (all.empty() ? "" : ", ") + report.kinds[entry.on[i].kind].name;
    return all;
}

// Groups of kinds that agree, then those that agree with none; nothing where there is one kind.
std::string comparison(const Report& report, const Entry& entry) {
    if (entry.groups.empty() || (entry.groups.size() == 1 && entry.groups.front().size() == 1)) return "";
    std::string together, alone;
    for (const auto& group : entry.groups) {
        std::string& to = group.size() > 1 ? together : alone;
        if (!to.empty()) to += group.size() > 1 ? "; " : ", ";
        to += names(report, entry, group);
    }
    if (together.empty()) return "none agree: " + alone;
    return "agree: " + together + (alone.empty() ? "" : "; with none: " + alone);
}

std::string heading(const Show& show, const Entry& entry) {
    std::string words = entry.palette ? "palette " + entry.name : "colour " + entry.name;
    if (!entry.fixtures.empty()) {
        std::vector<show::Element> elements;
        for (const Index fixture : entry.fixtures) elements.push_back({fixture});
        words += " for " + show::elements_text(show, elements);
    }
    if (!entry.target) return words + ": named emitters";
    const colour::Uv uv = colour::to_uv(*entry.target);
    return words + fmt::format(": x {:.4f} y {:.4f}, u' {:.4f} v' {:.4f}", entry.target->x, entry.target->y,
                               uv.u, uv.v);
}

// Whatever is said of filters is approximate.
std::string filtered_kinds(const Report& report) {
    std::string names;
    for (const Kind& kind : report.kinds)
        if (kind.way == Way::filters) names += (names.empty() ? "" : ", ") + kind.name;
    return names;
}

std::size_t name_width(const Report& report) {
    std::size_t width = least_name;
    for (const Kind& kind : report.kinds)
        if (const std::size_t has = text::width(kind.name + mark); has <= most_name)
            width = std::max(width, has);
    return width;
}

}  // namespace

std::string text(const Show& show, const Report& report) {
    std::string out = text::indented(
        "off: how far the light is from what was asked, in u'v'; 8 bits and desks: how far rounding moves "
        "it; agree: within 0.002 of each other before rounding",
        0, columns);
    for (const Index d : report.desks)
        out += text::indented(
            fmt::format("desk {}: notches of {}%", show.desks[d].name, text::decimal(show.desks[d].notch)), 0,
            columns);
    if (!report.typical.empty())
        out += "~: rests on typical emitters, not measured ones:\n" + check::render(report.typical, show);
    if (const std::string names = filtered_kinds(report); !names.empty())
        out += text::indented("approximate, by ideal filters before a white lamp: " + names, 0, columns);
    if (report.entries.empty()) out += "\nno palette and no line says a colour\n";
    const std::size_t width = name_width(report);
    for (const Entry& entry : report.entries) {
        out += '\n' + text::indented(heading(show, entry), 0, columns);
        if (entry.on.empty()) {
            out += "  no fixture takes it\n";
            continue;
        }
        out += fmt::format("  {}  {:<28} {:>6} {:>6} {:>6} {:>6}\n", padded("on", width),
                           "x      y       u'     v'", "off", "light", "lm", "8 bits");
        for (const Shown& shown : entry.on) out += row(show, report, shown, width);
        if (const std::string words = comparison(report, entry); !words.empty())
            out += text::indented(words, 2, columns);
    }
    return out;
}

}  // namespace tallow::palettes
