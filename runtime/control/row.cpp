#include "runtime/control/row.hpp"

#include <algorithm>

#include "runtime/control/plain_text.hpp"

namespace tallow::runtime {
namespace {

constexpr unsigned more_columns = 2;  // of ` …`
constexpr std::size_t few_lines = 3;

}  // namespace

Row& Row::put(std::string_view text, bool bold) {
    const std::string part = cut(text, left());
    if (part.empty()) return *this;
    used_ += width(part);
    text_ += bold ? "\033[1m" + part + "\033[0m" : part;
    return *this;
}

Row& Row::to(unsigned column) {
    const unsigned end = std::min(column, columns_);
    if (end <= used_) return *this;
    text_.append(end - used_, ' ');
    used_ = end;
    return *this;
}

void Rows::gap(unsigned rank) {
    if (!rows_.empty() && !rows_.back().text.empty()) rows_.push_back({rank, "", false});
}

void Rows::add_text(const Ranks& ranks, unsigned column, std::string_view text, std::size_t lines,
                    bool bold) {
    if (columns_ <= column + more_columns) return add(ranks.first, Row(columns_).to(column).put(text, bold));
    const unsigned room = columns_ - column - more_columns;
    std::size_t n = 0;
    for (const std::string& line : wrap(text, room, lines)) {
        const unsigned rank = n == 0 ? ranks.first : n < few_lines ? ranks.few : ranks.rest;
        rows_.push_back({rank, Row(columns_).to(column).put(line, bold).text(), n > 0});
        ++n;
    }
}

std::vector<std::string> Rows::fitted(std::size_t rows) const {
    std::vector<std::size_t> kept(rows_.size());
    for (std::size_t i = 0; i < kept.size(); ++i) kept[i] = i;
    std::stable_sort(kept.begin(), kept.end(),
                     [&](std::size_t a, std::size_t b) { return rows_[a].rank < rows_[b].rank; });
    kept.resize(std::min(kept.size(), rows));
    std::sort(kept.begin(), kept.end());
    const auto foot = std::lower_bound(kept.begin(), kept.end(), foot_);
    std::vector<std::string> all;
    for (auto i = kept.begin(); i != kept.end(); ++i) {
        if (i == foot) all.resize(rows - static_cast<std::size_t>(kept.end() - foot));
        all.push_back(rows_[*i].text);
        const bool next_is_kept = i + 1 != kept.end() && i[1] == *i + 1;
        if (*i + 1 < rows_.size() && rows_[*i + 1].goes_on && !next_is_kept) all.back() += " …";
    }
    all.resize(rows);
    return all;
}

}  // namespace tallow::runtime
