#include <nlohmann/json.hpp>

#include "compiler/palettes/writers.hpp"
#include "runtime/engine/integers.hpp"

namespace tallow::palettes {
namespace {

using Json = nlohmann::ordered_json;
constexpr int edition = 1;

// To a count of decimals, so that no reader sees the last bits.
double to_places(double value, double scale) {
    const double scaled = value * scale;
    return static_cast<double>(static_cast<std::int64_t>(scaled < 0 ? scaled - 0.5 : scaled + 0.5)) / scale;
}
double fine(double value) {
    return to_places(value, 1e6);
}

Json maybe(std::optional<double> value) {
    return value ? Json(fine(*value)) : Json(nullptr);
}

Json place(const std::optional<colour::Chromaticity>& xy) {
    if (!xy) return nullptr;
    const colour::Uv uv = colour::to_uv(*xy);
    return {{"x", fine(xy->x)}, {"y", fine(xy->y)}, {"u", fine(uv.u)}, {"v", fine(uv.v)}};
}

Json kind_json(const Show& show, const Kind& kind) {
    const show::Type& type = show.types[kind.alike.type];
    Json emitters = Json::array();
    if (kind.way != Way::wheel)
        for (const show::Emitter& e : type.emitters)
            emitters.push_back({{"name", e.name},
                                {"visible", e.visible},
                                {"measured", e.measured},
                                {"lumens", e.light.lumens > 0 ? Json(fine(e.light.lumens)) : Json(nullptr)}});
    return {{"name", kind.name},
            {"type", type.name},
            {"balanced", kind.alike.balance == show::none ? Json(nullptr)
                                                          : Json(show.balances[kind.alike.balance].group)},
            {"by", kind.way == Way::emitters  ? "emitters"
                   : kind.way == Way::filters ? "filters"
                                              : "wheel"},
            {"emitters", std::move(emitters)}};
}

Json level_json(const std::string& name, runtime::Level level, const Kind::Depth& depth) {
    return {{"name", name},
            {"percent", to_places(level / 655.35, 1e3)},
            {"slot_8", depth.bits_8 ? Json(runtime::narrow(level)) : Json(nullptr)},
            {"slot_16", depth.bits_16 ? Json(level) : Json(nullptr)}};
}

Json levels_json(const Show& show, const Kind& kind, const Shown& shown) {
    const show::Type& type = show.types[kind.alike.type];
    Json levels = Json::array();
    if (shown.slot != show::none)
        levels.push_back(level_json(show.attributes[type.wheel.attribute], type.wheel.slots[shown.slot].level,
                                    kind.depth.front()));
    else
        for (std::size_t i = 0; i < shown.level.size(); ++i)
            levels.push_back(level_json(type.emitters[i].name, shown.level[i], kind.depth[i]));
    return levels;
}

Json shown_json(const Show& show, const Report& report, const Shown& shown) {
    const Kind& kind = report.kinds[shown.kind];
    Json desks = Json::object();
    for (std::size_t d = 0; d < shown.desk.size(); ++d)
        desks[show.desks[report.desks[d]].name] = maybe(shown.desk[d]);
    const bool wheel = shown.slot != show::none;
    return {{"kind", kind.name},
            {"levels", levels_json(show, kind, shown)},
            {"wheel", wheel ? Json(show.types[kind.alike.type].wheel.slots[shown.slot].name) : Json(nullptr)},
            {"light", place(shown.xy)},
            {"typical", shown.typical},
            {"off", maybe(shown.off)},
            {"kelvin", shown.white ? Json(to_places(shown.white->kelvin, 1)) : Json(nullptr)},
            {"duv", shown.white ? Json(fine(shown.white->duv)) : Json(nullptr)},
            {"lumens", shown.lumens > 0 ? Json(to_places(shown.lumens, 1e3)) : Json(nullptr)},
            {"relative", shown.share > 0 ? Json(fine(shown.share)) : Json(nullptr)},
            {"kept", fine(shown.kept)},
            {"rounding_8", maybe(shown.in_8_bits)},
            {"rounding_desks", std::move(desks)}};
}

Json entry_json(const Show& show, const Report& report, const Entry& entry) {
    Json on = Json::array(), fixtures = Json::array();
    for (const Shown& shown : entry.on) on.push_back(shown_json(show, report, shown));
    for (const Index f : entry.fixtures) fixtures.push_back(show::fixture_text(show.fixtures[f]));
    Json groups = Json::array();
    for (const auto& group : entry.groups) {
        Json names = Json::array();
        for (const std::size_t i : group) names.push_back(report.kinds[entry.on[i].kind].name);
        groups.push_back(std::move(names));
    }
    return {{"name", entry.name},
            {"palette", entry.palette},
            {"fixtures", std::move(fixtures)},
            {"target", place(entry.target)},
            {"on", std::move(on)},
            {"agree", std::move(groups)}};
}

}  // namespace

std::string json(const Show& show, const Report& report) {
    Json desks = Json::array(), kinds = Json::array(), typical = Json::array(), list = Json::array();
    for (const Index d : report.desks)
        desks.push_back({{"name", show.desks[d].name},
                         {"notch_percent", static_cast<double>(show.desks[d].notch) / 1e6}});
    for (const Kind& kind : report.kinds) kinds.push_back(kind_json(show, kind));
    for (const check::TypicalUse& use : report.typical)
        typical.push_back({{"type", show.types[use.type].name}, {"colours", use.colours}});
    for (const Entry& entry : report.entries) list.push_back(entry_json(show, report, entry));
    const Json all{{"colours", edition},
                   {"show", show.title},
                   {"desks", std::move(desks)},
                   {"kinds", std::move(kinds)},
                   {"typical", std::move(typical)},
                   {"list", std::move(list)}};
    return all.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

}  // namespace tallow::palettes
