#include "compiler/emit/sheet.hpp"

namespace tallow::emit {
namespace {

std::string field(std::string_view cell) {
    if (cell.find_first_of(",\"\r\n") == std::string_view::npos) return std::string(cell);
    std::string out = "\"";
    for (const char c : cell) out.append(c == '"' ? 2 : 1, c);
    return out + '"';
}

}  // namespace

std::string csv(const Table& table) {
    std::string out;
    const auto add_line = [&](const auto& cells, auto text_of) {
        bool first = true;
        for (const auto& cell : cells) {
            if (!first) out += ',';
            first = false;
            out += field(text_of(cell));
        }
        out += '\n';
    };
    add_line(table.columns, [](const Column& column) -> const std::string& { return column.id; });
    for (const auto& row : table.rows)
        add_line(row, [](const std::string& cell) -> const std::string& { return cell; });
    return out;
}

}  // namespace tallow::emit
