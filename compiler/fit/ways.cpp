#include "compiler/fit/ways.hpp"

#include <algorithm>
#include <fmt/format.h>
#include <map>
#include <set>
#include <tuple>

#include "compiler/fit/given_up.hpp"
#include "compiler/fit/lossless.hpp"
#include "compiler/fit/trade_offs.hpp"

namespace tallow::fit {
namespace {

constexpr std::size_t most_names = 4;

// `front 1..2, side 3`; a few names at the most.
std::string fixtures_text(const show::Show& show, const std::vector<Index>& fixtures) {
    std::map<std::string, std::vector<Index>> names;
    for (const Index f : fixtures) names[show.fixtures[f].name].push_back(f);
    std::string words;
    std::size_t told = 0;
    for (const auto& [name, some] : names) {
        if (told++ == most_names)
            return fmt::format("{} and {} more names", words, names.size() - most_names);
        words += (words.empty() ? "" : ", ") + numbers_text(show, some);
    }
    return words;
}

void tell_modes(const show::Show& show, const Plan& plan, std::vector<std::string>& what) {
    std::map<std::tuple<Index, Index, Index>, std::vector<Index>> changed;  // by type and modes
    for (Index f = 0; f < show.fixtures.size(); ++f)
        if (plan.mode[f] != show.fixtures[f].mode)
            changed[{show.fixtures[f].type, show.fixtures[f].mode, plan.mode[f]}].push_back(f);
    for (const auto& [kind, fixtures] : changed) {
        const auto& [type, from, to] = kind;
        const std::vector<show::Mode>& modes = show.types[type].modes;
        what.push_back(fmt::format("{} in mode {} in place of {}: {} of {} slots",
                                   fixtures_text(show, fixtures), modes[to].name, modes[from].name,
                                   modes[to].footprint, modes[from].footprint));
    }
}

void tell_gangs(const show::Show& show, const Plan& plan, std::vector<std::string>& what) {
    std::map<Index, std::vector<Index>> gangs;
    for (Index f = 0; f < show.fixtures.size(); ++f) gangs[plan.leader[f]].push_back(f);
    for (const auto& [leader, fixtures] : gangs) {
        std::set<Index> before;
        for (const Index f : fixtures) before.insert(show.fixtures[f].leader);
        if (before.size() > 1) what.push_back(fixtures_text(show, fixtures) + " on one address");
    }
}

std::vector<std::string> desks_left(const show::Show& show, const std::vector<Slot>& at) {
    std::set<std::uint16_t> used;
    for (const Slot& s : at) used.insert(s.universe);
    std::vector<std::string> names;
    for (const show::Desk& desk : show.desks)
        if (!used.contains(desk.universe) ||
            std::any_of(desk.channels.begin(), desk.channels.end(),
                        [&](const show::DeskChannel& c) { return !used.contains(c.universe); }))
            names.push_back(desk.name);
    return names;
}

Way way_of(const Placer& placer, Placed placed) {
    const show::Show& show = placer.show();
    Way way;
    way.channels = slots_of(show, placed.plan);
    tell_modes(show, placed.plan, way.what);
    tell_gangs(show, placed.plan, way.what);
    way.lossless = placed.trial.clean();
    GivenUp lost = given_up(placer.tester(), placed.trial);
    way.lost = std::move(lost.lines);
    way.worst = lost.worst;
    way.desks = desks_left(show, placed.at);
    way.plan = std::move(placed.plan);
    way.at = std::move(placed.at);
    way.layouts = std::move(placed.layouts);
    return way;
}

}  // namespace

Ways find_ways(const Tester& tester, const show::Desk& desk) {
    Ways found;
    std::vector<Way>& ways = found.all;
    if (tester.show().fixtures.empty()) return found;
    const Placer placer(tester, desk);
    const Plan present = as_patched(tester.show());
    const Plan smaller = with_smaller_modes(placer, present);
    const Plan both = with_gangs(placer, smaller);
    std::vector<Plan> plans{both, smaller, with_gangs(placer, present), present};
    TradeOffs steps = trade_offs(placer, both);
    found.refused = std::move(steps.refused);
    for (Plan& plan : steps.plans) plans.push_back(std::move(plan));
    for (std::size_t i = 0; i < plans.size(); ++i) {
        if (std::find(plans.begin(), plans.begin() + static_cast<std::ptrdiff_t>(i), plans[i]) !=
            plans.begin() + static_cast<std::ptrdiff_t>(i))
            continue;
        Placed placed = placer.place(plans[i]);
        if (placed.trial.compiles) ways.push_back(way_of(placer, std::move(placed)));
    }
    std::stable_sort(ways.begin(), ways.end(), [](const Way& a, const Way& b) {
        if (a.lossless != b.lossless) return a.lossless;
        if (a.channels != b.channels) return a.lossless == (a.channels < b.channels);
        return a.worst < b.worst;
    });
    return found;
}

std::size_t chosen_way(const std::vector<Way>& ways) {
    for (std::size_t i = 0; i < ways.size(); ++i)
        if (!ways[i].layouts.empty()) return i;
    const auto least = std::min_element(ways.begin(), ways.end(),
                                        [](const Way& a, const Way& b) { return a.channels < b.channels; });
    return static_cast<std::size_t>(least - ways.begin());
}

}  // namespace tallow::fit
