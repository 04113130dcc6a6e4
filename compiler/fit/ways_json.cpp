#include <nlohmann/json.hpp>

#include "compiler/desk/addresses.hpp"
#include "compiler/fit/ways_report.hpp"

namespace tallow::fit {
namespace {

using Json = nlohmann::ordered_json;

Json way_json(const WaysReport& report, std::size_t i) {
    const Way& way = report.ways[i];
    Json fits = Json::array();
    for (const Index l : way.layouts) fits.push_back(report.desk.layouts[l].name);
    // In tenths of a percent, so that no machine prints another last digit.
    const auto tenths = static_cast<std::int64_t>(way.worst * 1000 + 0.5);
    return {{"way", i + 1},     {"channels", way.channels},
            {"fits", fits},     {"lossless", way.lossless},
            {"what", way.what}, {"worst_percent", static_cast<double>(tenths) / 10},
            {"lost", way.lost}, {"desks_without_fixtures", way.desks}};
}

Json rows(const emit::Table& table) {
    Json all = Json::array();
    for (const auto& row : table.rows) {
        Json object = Json::object();
        for (std::size_t c = 0; c < row.size(); ++c) {
            const emit::Column& column = table.columns[c];
            object[column.id] = !column.number   ? Json(row[c])
                                : row[c].empty() ? Json(nullptr)
                                                 : Json::parse(row[c]);
        }
        all.push_back(std::move(object));
    }
    return all;
}

}  // namespace

std::string ways_json(const WaysReport& report) {
    Json out{{"fit", 1}, {"show", report.show.title}, {"desk", report.desk.name}};
    for (const show::Layout& l : report.desk.layouts)
        out["layouts"].push_back({{"name", l.name}, {"channels", l.channels}});
    if (report.desk.layouts.empty()) out["layouts"] = Json::array();
    for (std::size_t i = 0; i < report.ways.size(); ++i) out["ways"].push_back(way_json(report, i));
    out["refused"] = report.refused;
    out["chosen"] = report.chosen + 1;
    out["channels_over"] = channels_over(report);
    out["addresses"] = rows(desk::address_table(report.chosen_show, report.desk));
    out["hookup"] = rows(desk::hookup_table(report.chosen_show, report.desk));
    out["patch"] = chosen_patch(report);
    return out.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

}  // namespace tallow::fit
