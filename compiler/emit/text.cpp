// Sheets as plain text. A sheet becomes groups of lines that stay together; groups are laid on pages.
#include <algorithm>
#include <fmt/format.h>

#include "compiler/emit/fader_rows.hpp"
#include "compiler/emit/sheet.hpp"
#include "compiler/text/utf8.hpp"
#include "compiler/text/wrap.hpp"

namespace tallow::emit {
namespace {

using text::clean;
using text::wrapped;
using Lines = std::vector<std::string>;

struct Group {
    Lines lines;
    Lines heading;  // printed again where a new page begins before the group
};

std::string padded(const std::string& text, std::size_t width, bool right = false) {
    const std::size_t have = text::width(text);
    const std::string blanks(width > have ? width - have : 0, ' ');
    return right ? blanks + text : text + blanks;
}

std::string trimmed(std::string line) {
    line.erase(line.find_last_not_of(' ') + 1);
    return line;
}

void append(Lines& to, const Lines& more) {
    to.insert(to.end(), more.begin(), more.end());
}

// `left` and `right` at the two ends of a line, or on two lines.
Lines ends(const std::string& left, const std::string& right) {
    const std::string l = clean(left), r = clean(right);
    if (r.empty()) return wrapped(l, page_columns);
    if (text::width(l) + text::width(r) + 2 <= page_columns)
        return {padded(l, page_columns - text::width(r)) + r};
    Lines lines = wrapped(l, page_columns);
    append(lines, wrapped(r, page_columns));
    return lines;
}

// Rows as on the desk; one too long for the paper is broken into even parts.
Lines fader_lines(const Card& card) {
    std::size_t cell = 3;
    for (const Fader& f : card.faders)
        cell = std::max({cell, f.level.size() + 1, std::to_string(f.number).size()});
    const std::size_t room = (page_columns + 1) / (cell + 1);
    Lines lines;
    for (const auto& [from, to] : fader_parts(card.faders.size(), card.rows, room)) {
        std::string numbers, levels;
        for (std::size_t i = from; i < to; ++i) {
            const Fader& f = card.faders[i];
            numbers += padded(std::to_string(f.number), cell, true) + ' ';
            levels += padded(level_text(f), cell, true) + ' ';
        }
        lines.push_back(trimmed(numbers));
        lines.push_back(trimmed(levels));
    }
    return lines;
}

Group card_group(const Card& card) {
    Lines lines = ends(card.corner, card.right);
    for (const std::string& p : card.above) append(lines, wrapped(p, page_columns));
    if (!card.faders.empty()) append(lines, fader_lines(card));
    for (const std::string& p : card.below) append(lines, wrapped(p, page_columns));
    lines.emplace_back();
    return {std::move(lines), {}};
}

// A table too wide for the paper: a block for each row, a line for each column that says something.
std::vector<Group> stacked_groups(const Table& table) {
    std::vector<Group> groups;
    for (const auto& row : table.rows) {
        Lines lines;
        for (std::size_t c = 0; c < row.size(); ++c) {
            if (row[c].empty() && c > 0) continue;
            const std::string margin = c == 0 ? "" : "    ";
            for (const std::string& line :
                 wrapped(table.columns[c].id + ": " + row[c], page_columns - margin.size()))
                lines.push_back(margin + line);
        }
        groups.push_back({std::move(lines), {}});
    }
    groups.push_back({{""}, {}});
    return groups;
}

// The last column takes what is left of the line, and wraps.
std::vector<Group> table_groups(const Table& table) {
    std::vector<std::size_t> widths;
    for (std::size_t c = 0; c < table.columns.size(); ++c) {
        widths.push_back(text::width(table.columns[c].id));
        for (const auto& row : table.rows) widths[c] = std::max(widths[c], text::width(row[c]));
        if (c + 1 < table.columns.size()) widths[c] = std::min<std::size_t>(widths[c], 24);
    }
    std::size_t used = 0;
    for (std::size_t c = 0; c + 1 < widths.size(); ++c) used += widths[c] + 2;
    if (used + 20 > page_columns) return stacked_groups(table);
    widths.back() = page_columns - used;

    const auto lay = [&](const std::vector<std::string>& cells) {
        std::vector<Lines> columns;
        std::size_t height = 1;
        for (std::size_t c = 0; c < cells.size(); ++c) {
            columns.push_back(wrapped(cells[c], widths[c]));
            height = std::max(height, columns.back().size());
        }
        Lines lines;
        for (std::size_t h = 0; h < height; ++h) {
            std::string line;
            for (std::size_t c = 0; c < columns.size(); ++c)
                line += padded(h < columns[c].size() ? columns[c][h] : "", widths[c],
                               table.columns[c].number && c + 1 < columns.size()) +
                        "  ";
            lines.push_back(trimmed(line));
        }
        return lines;
    };
    std::vector<std::string> names;
    for (const Column& c : table.columns) names.push_back(c.id);
    const Lines heading = lay(names);
    std::vector<Group> groups{{heading, {}}};
    for (const auto& row : table.rows) groups.push_back({lay(row), heading});
    groups.push_back({{""}, {}});
    return groups;
}

std::vector<Group> groups_of(const Sheet& sheet) {
    std::vector<Group> groups;
    for (const std::string& note : sheet.notes) groups.push_back({wrapped(note, page_columns), {}});
    if (!sheet.notes.empty()) groups.push_back({{""}, {}});
    for (const Card& card : sheet.cards) groups.push_back(card_group(card));
    for (const Table& table : sheet.tables) {
        if (!table.printed) continue;
        for (Group& g : table_groups(table)) groups.push_back(std::move(g));
    }
    return groups;
}

std::vector<Lines> paged(const std::vector<Group>& groups, std::size_t room) {
    std::vector<Lines> pages(1);
    for (const Group& g : groups) {
        if (!pages.back().empty() &&
            pages.back().size() + g.lines.size() - (g.lines.back().empty() ? 1 : 0) > room) {
            pages.emplace_back();
            append(pages.back(), g.heading);
        }
        for (const std::string& line : g.lines) {
            if (pages.back().size() >= room) {
                if (line.empty()) break;
                pages.emplace_back();
            }
            pages.back().push_back(line);
        }
    }
    return pages;
}

}  // namespace

std::string text(const SheetSet& set, const Sheet& sheet) {
    const std::string rule(page_columns, '-');
    const Lines caution = wrapped(set.caution, page_columns);
    const std::string where = fmt::format("desk {}, layout {}", set.desk, set.layout);
    const std::string files = set.files.empty() ? "" : "files " + set.files;
    const std::size_t head = ends(set.show, "page 999 of 999").size() + ends(sheet.title, set.date).size() +
                             ends(where, files).size() + 1;
    const std::vector<Lines> pages = paged(groups_of(sheet), page_lines - head - caution.size() - 1);
    std::string out;
    for (std::size_t p = 0; p < pages.size(); ++p) {
        Lines lines = ends(set.show, fmt::format("page {} of {}", p + 1, pages.size()));
        append(lines, ends(sheet.title, set.date));
        append(lines, ends(where, files));
        lines.push_back(rule);
        append(lines, pages[p]);
        while (lines.back().empty()) lines.pop_back();
        lines.push_back(rule);
        append(lines, caution);
        if (p > 0) out += '\f';
        for (const std::string& line : lines) out += line + '\n';
    }
    return out;
}

}  // namespace tallow::emit
