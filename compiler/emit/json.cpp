#include <nlohmann/json.hpp>

#include "compiler/emit/sheet.hpp"

namespace tallow::emit {
namespace {

using Json = nlohmann::ordered_json;

Json cell(const Column& column, const std::string& text) {
    if (!column.number) return text;
    return text.empty() ? Json(nullptr) : Json::parse(text);
}

Json rows(const Table& table) {
    Json all = Json::array();
    for (const auto& row : table.rows) {
        Json object = Json::object();
        for (std::size_t i = 0; i < row.size(); ++i)
            object[table.columns[i].id] = cell(table.columns[i], row[i]);
        all.push_back(std::move(object));
    }
    return all;
}

}  // namespace

std::string json(const SheetSet& set) {
    Json out{{"sheets", 1}, {"show", set.show}, {"by", set.by}, {"desk", set.desk}, {"layout", set.layout}};
    if (!set.files.empty()) out["files"] = set.files;
    if (!set.date.empty()) out["date"] = set.date;
    out["caution"] = set.caution;
    for (const Sheet& sheet : set.sheets) {
        out["notes"][sheet.id] = sheet.notes;
        for (const Table& table : sheet.tables) out["tables"][table.id] = rows(table);
    }
    return out.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

}  // namespace tallow::emit
