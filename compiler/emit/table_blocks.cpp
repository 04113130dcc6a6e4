#include <algorithm>
#include <numeric>

#include "compiler/emit/blocks.hpp"

namespace tallow::emit {
namespace {

constexpr Style body{11, false}, head{11, true};
constexpr Length unbroken[] = {5000, 3500, 2500};  // longer words may be broken, shorter ones in need

// `up_s` is `up (s)`.
std::string heading(std::string id) {
    if (id.size() > 2 && id.ends_with("_s")) id.replace(id.size() - 2, 2, " (s)");
    std::replace(id.begin(), id.end(), '_', ' ');
    return id;
}

// What a column wants, the least that does not break a word of usual length, and what a cell of it says on
// the average.
struct Need {
    Length wanted = 2 * table_padding, least = 2 * table_padding;
    std::int64_t usual = 0;
};

Need need_of(const Table& table, std::size_t column, Length longest_word) {
    Need need;
    std::int64_t spoken = 0;  // cells that say something
    const auto take = [&](std::string_view text, Style style) {
        const Length wanted = text_width(text, style), word = widest_word(text, style);
        need.wanted = std::max(need.wanted, wanted + 2 * table_padding);
        need.least = std::max(need.least, std::min(word, longest_word) + 2 * table_padding);
        need.usual += wanted;
        spoken += wanted > 0;
    };
    take(heading(table.columns[column].id), head);
    for (const auto& row : table.rows) take(row[column], body);
    need.usual = need.usual / std::max<std::int64_t>(spoken, 1) + 1;
    return need;
}

std::vector<Need> needs_of(const Table& table, const std::vector<std::size_t>& columns, Length width) {
    std::vector<Need> needs;
    for (const Length longest_word : unbroken) {
        needs.clear();
        Length sum = 0;
        for (const std::size_t c : columns) {
            needs.push_back(need_of(table, c, longest_word));
            sum += needs.back().least;
        }
        if (sum <= width) break;
    }
    return needs;
}

// In proportion to what the cells say, from the least to what it wants, so that the cells of a row are
// about as high as each other. The last takes what is left.
std::vector<Length> widths(const std::vector<Need>& needs, Length width) {
    std::int64_t most = 1;
    for (const Need& n : needs) most = std::max(most, n.usual);
    const auto share = [&](std::int64_t part) {
        std::vector<Length> all;
        all.reserve(needs.size());
        for (const Need& n : needs)
            all.push_back(
                static_cast<Length>(std::clamp<std::int64_t>(part * n.usual / most, n.least, n.wanted)));
        return all;
    };
    const auto sum = [](const std::vector<Length>& all) {
        return std::accumulate(all.begin(), all.end(), std::int64_t{0});
    };
    std::int64_t low = 0, high = std::int64_t{width} * most;
    while (low < high) {
        const std::int64_t middle = low + (high - low + 1) / 2;
        if (sum(share(middle)) <= width)
            low = middle;
        else
            high = middle - 1;
    }
    std::vector<Length> all = share(low);
    all.back() += static_cast<Length>(std::max<std::int64_t>(width - sum(all), 0));
    return all;
}

// Those that say something in some row; the first of all of them in any case.
std::vector<std::size_t> used_columns(const Table& table) {
    std::vector<std::size_t> all;
    for (std::size_t c = 0; c < table.columns.size(); ++c)
        if (c == 0 || std::any_of(table.rows.begin(), table.rows.end(),
                                  [&](const auto& row) { return !row[c].empty(); }))
            all.push_back(c);
    return all;
}

// Columns that have room side by side, in order; the first one leads every band.
std::vector<std::vector<std::size_t>> bands(const std::vector<std::size_t>& columns,
                                            const std::vector<Need>& needs, Length width) {
    std::vector<std::vector<std::size_t>> all{{columns[0]}};
    Length used = needs[0].least;
    for (std::size_t i = 1; i < columns.size(); ++i) {
        if (used + needs[i].least > width && all.back().size() > 1) {
            all.push_back({columns[0]});
            used = needs[0].least;
        }
        all.back().push_back(columns[i]);
        used += needs[i].least;
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
    if (table.columns.empty() || table.rows.empty()) return all;
    const std::vector<std::size_t> columns = used_columns(table);
    const std::vector<Need> needs = needs_of(table, columns, width);
    std::vector<std::string> names;
    for (const Column& column : table.columns) names.push_back(heading(column.id));
    for (const auto& band : bands(columns, needs, width)) {
        std::vector<Need> some;
        for (std::size_t i = 0; i < columns.size(); ++i)
            if (std::find(band.begin(), band.end(), columns[i]) != band.end()) some.push_back(needs[i]);
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
