#include "compiler/palettes/kinds.hpp"

#include <algorithm>

namespace tallow::palettes {
namespace {

using show::none;

bool takes_colour(const show::Mode& mode) {
    return !mode.parts.front().emitters.empty() || mode.parts.front().wheel != show::no_place;
}

Kind new_kind(const Show& show, track::Alike alike) {
    const show::Type& type = show.types[alike.type];
    Kind kind{alike, type.name, track::way_of(type), {}, {}, {}};
    if (alike.balance != none) kind.name += " in " + show.balances[alike.balance].group;
    kind.depth.resize(kind.way == Way::wheel ? 1 : type.emitters.size());
    return kind;
}

void add_depth(const Show& show, Kind& kind, const show::Mode& mode) {
    for (const show::ParameterDef& p : mode.parameters) {
        std::size_t at = p.emitter;
        if (kind.way == Way::wheel) at = p.attribute == show.types[kind.alike.type].wheel.attribute ? 0 : 1;
        if (at >= kind.depth.size()) continue;
        (p.fine == 0 ? kind.depth[at].bits_8 : kind.depth[at].bits_16) = true;
    }
}

}  // namespace

std::vector<Kind> kinds_in_use(const Show& show) {
    std::vector<Kind> kinds;
    for (Index i = 0; i < show.fixtures.size(); ++i) {
        const show::Fixture& fixture = show.fixtures[i];
        if (fixture.type == none || fixture.leader != i || !takes_colour(show.mode_of(fixture))) continue;
        const track::Alike alike{fixture.type, fixture.balance};
        auto kind = std::find_if(kinds.begin(), kinds.end(), [&](const Kind& k) { return k.alike == alike; });
        if (kind == kinds.end()) kind = kinds.insert(kind, new_kind(show, alike));
        kind->fixtures.push_back(i);
        const bool seen = std::any_of(kind->examples.begin(), kind->examples.end(),
                                      [&](Index f) { return show.fixtures[f].mode == fixture.mode; });
        if (seen) continue;
        kind->examples.push_back(i);
        add_depth(show, *kind, show.mode_of(fixture));
    }
    return kinds;
}

}  // namespace tallow::palettes
