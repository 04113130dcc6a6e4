#include "tests/support/csv.hpp"

#include <catch2/catch.hpp>
#include <cctype>

namespace tallow::test {
namespace {

std::vector<std::vector<std::string>> fields(const std::string& text) {
    std::vector<std::vector<std::string>> lines;
    std::vector<std::string> line(1);
    bool quoted = false;
    for (std::size_t i = 0; i < text.size(); ++i) {
        const char c = text[i];
        if (quoted && c == '"' && i + 1 < text.size() && text[i + 1] == '"') {
            line.back() += text[++i];
        } else if (c == '"') {
            quoted = !quoted;
        } else if (!quoted && c == ',') {
            line.emplace_back();
        } else if (!quoted && c == '\n') {
            lines.push_back(std::move(line));
            line.assign(1, "");
        } else {
            line.back() += c;
        }
    }
    return lines;
}

}  // namespace

std::vector<CsvRow> read_csv(const std::string& text) {
    const auto lines = fields(text);
    REQUIRE_FALSE(lines.empty());
    std::vector<CsvRow> rows;
    for (std::size_t n = 1; n < lines.size(); ++n) {
        REQUIRE(lines[n].size() == lines[0].size());
        CsvRow row;
        for (std::size_t c = 0; c < lines[n].size(); ++c) row[lines[0][c]] = lines[n][c];
        rows.push_back(std::move(row));
    }
    return rows;
}

std::vector<CsvRow> csv_table(const emit::SheetSet& set, const std::string& id) {
    for (const emit::Sheet& sheet : set.sheets)
        for (const emit::Table& table : sheet.tables)
            if (table.id == id) return read_csv(emit::csv(table));
    FAIL("there is no table " << id);
    return {};
}

std::map<int, double> csv_levels(const CsvRow& row) {
    std::map<int, double> levels;
    for (const auto& [heading, field] : row)
        if (std::isdigit(static_cast<unsigned char>(heading[0])) && !field.empty())
            levels[std::stoi(heading)] = std::stod(field);
    return levels;
}

}  // namespace tallow::test
