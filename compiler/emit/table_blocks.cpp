#include <algorithm>
#include <numeric>

#include "compiler/emit/blocks.hpp"

namespace tallow::emit {
namespace {

constexpr Style body{11, false}, head{11, true};
constexpr Length widest_unbroken = 5000;  // a longer word may be broken

// `up_s` is `up (s)`.
std::string heading(std::string id) {
    if (id.size() > 2 && id.ends_with("_s")) id.replace(id.size() - 2, 2, " (s)");
    std::replace(id.begin(), id.end(), '_', ' ');
    return id;
}

// What each column wants, and the least that does not break a word of usual length.
struct Need {
    Length wanted = 0, least = 0;
};

std::vector<Need> needs(const Table& table) {
    std::vector<Need> all;
    const auto take = [](Need& need, std::string_view text, Style style) {
        need.wanted = std::max(need.wanted, text_width(text, style));
        need.least = std::max(need.least, std::min(widest_word(text, style), widest_unbroken));
    };
    for (std::size_t c = 0; c < table.columns.size(); ++c) {
        Need need;
        take(need, heading(table.columns[c].id), head);
        for (const auto& row : table.rows) take(need, row[c], body);
        all.push_back({need.wanted + 2 * table_padding, need.least + 2 * table_padding});
    }
    return all;
}

// The widest give way first; the last takes what is left.
std::vector<Length> widths(const std::vector<Need>& needs, Length width) {
    const auto cut = [&](Length cap) {
        std::vector<Length> all;
        for (const Need& n : needs) all.push_back(std::clamp(cap, n.least, n.wanted));
        return all;
    };
    const auto sum = [](const std::vector<Length>& all) {
        return std::accumulate(all.begin(), all.end(), std::int64_t{0});
    };
    Length low = 0, high = width;
    while (low < high) {
        const Length middle = low + (high - low + 1) / 2;
        if (sum(cut(middle)) <= width)
            low = middle;
        else
            high = middle - 1;
    }
    std::vector<Length> all = cut(low);
    all.back() += static_cast<Length>(std::max<std::int64_t>(width - sum(all), 0));
    return all;
}

// Columns that have room side by side, in order; the first one leads every band.
std::vector<std::vector<std::size_t>> bands(const std::vector<Need>& needs, Length width) {
    std::vector<std::vector<std::size_t>> all{{0}};
    Length used = needs[0].least;
    for (std::size_t c = 1; c < needs.size(); ++c) {
        if (used + needs[c].least > width && all.back().size() > 1) {
            all.push_back({0});
            used = needs[0].least;
        }
        all.back().push_back(c);
        used += needs[c].least;
    }
    return all;
}

Row table_row(const std::vector<std::string>& texts, const Table& table, const std::vector<std::size_t>& band,
              const std::vector<Length>& columns, Style style) {
    Row row;
    std::size_t lines = 1;
    for (std::size_t i = 0; i < band.size(); ++i) {
        Cell cell{broken(texts[band[i]], style, columns[i] - 2 * table_padding), style};
        if (table.columns[band[i]].number) cell.align = Align::right;
        lines = std::max(lines, cell.lines.size());
        row.cells.push_back(std::move(cell));
    }
    row.height = static_cast<Length>(lines) * line_height(style) + 2 * row_padding;
    return row;
}

}  // namespace

std::vector<Block> table_blocks(const Table& table, Length width) {
    std::vector<Block> all;
    if (table.columns.empty()) return all;
    const std::vector<Need> every = needs(table);
    std::vector<std::string> names;
    for (const Column& column : table.columns) names.push_back(heading(column.id));
    for (const auto& band : bands(every, width)) {
        std::vector<Need> some;
        for (const std::size_t c : band) some.push_back(every[c]);
        Block block{Role::table, widths(some, width), {}};
        block.rows.push_back(table_row(names, table, band, block.columns, head));
        block.rows.back().heading = true;
        for (const auto& row : table.rows)
            block.rows.push_back(table_row(row, table, band, block.columns, body));
        all.push_back(std::move(block));
    }
    return all;
}

}  // namespace tallow::emit
