#include <algorithm>
#include <fmt/format.h>

#include "compiler/desk/addresses.hpp"
#include "compiler/fit/ways_report.hpp"
#include "compiler/text/counted.hpp"
#include "compiler/text/utf8.hpp"
#include "compiler/text/wrap.hpp"

namespace tallow::fit {
namespace {

using text::counted;

constexpr std::size_t columns = 80, most_told = 6;

std::string padded(const std::string& words, std::size_t width, bool right = false) {
    const std::size_t has = text::width(words);
    const std::string blanks(has < width ? width - has : 0, ' ');
    return right ? blanks + words : words + blanks;
}

// Lines of cells, each column as wide as its widest cell; the last one wraps.
std::string rows_text(const std::vector<std::vector<std::string>>& rows, const std::vector<bool>& right) {
    std::vector<std::size_t> width(right.size());
    std::size_t indent = 0;
    for (std::size_t c = 0; c + 1 < right.size(); ++c) {
        for (const auto& row : rows) width[c] = std::max(width[c], text::width(row[c]));
        indent += width[c] + 2;
    }
    const std::size_t room = std::max<std::size_t>(indent < columns ? columns - indent : 0, 24);
    std::string out;
    for (const auto& row : rows) {
        std::string line;
        for (std::size_t c = 0; c + 1 < row.size(); ++c)
            line += padded(text::clean(row[c]), width[c], right[c]) + "  ";
        for (const std::string& part : text::wrapped(row.back(), room)) {
            line += part;
            out += line.substr(0, line.find_last_not_of(' ') + 1) + "\n";
            line.assign(indent, ' ');
        }
    }
    return out;
}

std::string layouts_text(const show::Desk& desk, const std::vector<Index>& layouts) {
    if (layouts.empty()) return "none";
    std::string words;
    for (const Index l : layouts)
        words += fmt::format("{}{}", words.empty() ? "" : ", ", desk.layouts[l].name);
    return words;
}

std::string what_text(const Way& way) {
    if (way.what.empty()) return "as it is patched";
    std::string words;
    for (std::size_t i = 0; i < std::min(way.what.size(), most_told); ++i)
        words += fmt::format("{}{}", i == 0 ? "" : "; ", way.what[i]);
    if (way.what.size() > most_told) words += fmt::format("; and {} more", way.what.size() - most_told);
    return words;
}

std::string loss_text(const Way& way) {
    return way.lossless ? "none" : fmt::format("{:.1f}%", way.worst * 100);
}

std::string table_of_ways(const WaysReport& report) {
    std::vector<std::vector<std::string>> rows{{"way", "channels", "fits", "loss", "what"}};
    for (std::size_t i = 0; i < report.ways.size(); ++i) {
        const Way& way = report.ways[i];
        rows.push_back({std::to_string(i + 1), std::to_string(way.channels),
                        layouts_text(report.desk, way.layouts), loss_text(way), what_text(way)});
    }
    return rows_text(rows, {true, true, false, true, false});
}

std::string losses(const WaysReport& report) {
    std::string out;
    for (std::size_t i = 0; i < report.ways.size(); ++i) {
        const Way& way = report.ways[i];
        if (way.lossless) continue;
        out += fmt::format("\nway {} loses\n", i + 1);
        for (std::size_t l = 0; l < std::min(way.lost.size(), most_told); ++l)
            out += text::indented(way.lost[l], 4, columns);
        if (way.lost.size() > most_told) out += fmt::format("    and {} more\n", way.lost.size() - most_told);
    }
    return out;
}

std::string refused_text(const WaysReport& report) {
    if (report.refused.empty()) return "";
    std::string out = "\nmore would be saved, once a line is changed\n";
    for (std::size_t i = 0; i < std::min(report.refused.size(), most_told); ++i)
        out += text::indented(report.refused[i], 4, columns);
    return out;
}

std::string chosen_text(const WaysReport& report) {
    const Way& way = report.ways[report.chosen];
    const std::size_t best = chosen_way(report.ways);
    const Way& fitting = report.ways[best];
    std::string words = fmt::format("way {}: {}", report.chosen + 1, counted(way.channels, "channel"));
    if (!way.layouts.empty())
        words += fmt::format(", fits {}", layouts_text(report.desk, way.layouts));
    else if (report.desk.layouts.empty())
        words += "; the desk has no layout: write `layout main 20 channels 2 scenes` under it";
    else
        words +=
            fmt::format("; {}: {} of them are on no channel of the largest layout",
                        fitting.layouts.empty() ? "no way fits" : "it fits no layout", channels_over(report));
    if (way.layouts.empty() && !fitting.layouts.empty())
        words += fmt::format(" (way {} fits {})", best + 1, layouts_text(report.desk, fitting.layouts));
    words += way.lossless ? "; nothing is lost" : "; it loses what is said above";
    std::string out;
    for (const std::string& line : text::wrapped(words, columns)) out += line + "\n";
    for (const std::string& desk : way.desks)
        out +=
            fmt::format("the desk `{}` would play a universe without fixtures: change or `skip` it\n", desk);
    return out;
}

}  // namespace

std::uint32_t channels_over(const WaysReport& report) {
    const Way& way = report.ways[report.chosen];
    if (!way.layouts.empty() || report.desk.layouts.empty()) return 0;
    return slots_beyond(report.show, report.desk, way.plan, way.at, most_channels(report.desk));
}

std::string chosen_patch(const WaysReport& report) {
    const Way& way = report.ways[report.chosen];
    return patch_text(report.show, report.sources, way.plan, way.at);
}

std::string ways_text(const WaysReport& report) {
    std::string out =
        text::clean(fmt::format("{}on the desk {}", report.show.title.empty() ? "" : report.show.title + " ",
                                report.desk.name)) +
        "\n";
    for (const show::Layout& l : report.desk.layouts)
        out += fmt::format("    layout {}: {}\n", l.name, counted(l.channels, "channel"));
    out += fmt::format("\n{}{}{}\n{}\n", table_of_ways(report), losses(report), refused_text(report),
                       chosen_text(report));
    const emit::Table table = desk::address_table(report.chosen_show, report.desk);
    std::vector<std::vector<std::string>> rows{{}};
    std::vector<bool> right;
    for (const emit::Column& c : table.columns) {
        rows.front().push_back(c.id);
        right.push_back(c.number);
    }
    rows.insert(rows.end(), table.rows.begin(), table.rows.end());
    return out + rows_text(rows, right);
}

}  // namespace tallow::fit
