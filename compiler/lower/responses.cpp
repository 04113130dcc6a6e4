#include "compiler/lower/responses.hpp"

#include <algorithm>
#include <functional>

#include "compiler/track/dimming.hpp"

namespace tallow::lower {
namespace {

using runtime::Level;
using show::Index;
using Curve = std::function<double(double)>;  // 0..1 to 0..1, never falling

Level at(const Curve& curve, std::int64_t level) {
    return static_cast<Level>(curve(static_cast<double>(level) / runtime::full) * runtime::full + .5);
}

// Whether a straight line from knot to knot stays within 1 of the curve.
bool straight(const Curve& curve, std::int64_t from, std::int64_t to) {
    constexpr std::int64_t probes = 8;
    const double low = at(curve, from), high = at(curve, to);
    for (std::int64_t i = 1; i < probes; ++i) {
        const std::int64_t between = from + (to - from) * i / probes;
        const double line =
            low + (high - low) * static_cast<double>(between - from) / static_cast<double>(to - from);
        const double off = line - at(curve, between);
        if (off > 1 || off < -1) return false;
    }
    return true;
}

runtime::Response drawn(const Curve& curve) {
    runtime::Response response;
    std::vector<std::int64_t> ends{runtime::full};  // of stretches to come, the nearest last
    response.level.push_back(0);
    response.slot.push_back(at(curve, 0));
    while (!ends.empty()) {
        const std::int64_t from = response.level.back(), to = ends.back();
        if (to - from > 1 && !straight(curve, from, to)) {
            ends.push_back((from + to) / 2);
            continue;
        }
        ends.pop_back();
        response.level.push_back(static_cast<Level>(to));
        response.slot.push_back(at(curve, to));
    }
    return response;
}

}  // namespace

Responses::Responses(const show::Show& show) : show_(show) {
    for (Index p = 0; p < show.parameters.size(); ++p) {
        const Index response = show.fixtures[show.parameters[p].fixture].response;
        if (response == show::none) continue;
        if (const auto part = part_of(p)) add(p, show.responses[response], *part);
    }
}

// What dims a fixture responds: its intensity's slot, or the emitters that a level without a slot scales.
std::optional<Responses::Part> Responses::part_of(Index parameter) const {
    const show::ParameterDef& def = show_.definition(parameter);
    if (def.kind == show::Kind::intensity) return def.coarse != 0 ? Part::dimmer : Part::scale;
    if (def.kind != show::Kind::colour || def.under == show::no_place) return std::nullopt;
    const show::Mode& mode = show_.mode_of(show_.fixtures[show_.parameters[parameter].fixture]);
    return mode.parameters[def.under].coarse == 0 ? std::optional(Part::emitter) : std::nullopt;
}

void Responses::add(Index parameter, const show::Response& response, Part part) {
    const auto [place, fresh] = places_.try_emplace({response, part}, all_.size());
    if (fresh) {
        const track::Dimming dimming(show_.law, response);
        all_.push_back(drawn([&](double v) {
            const double light = part == Part::emitter ? v : dimming.light(v);
            return part == Part::scale ? light : dimming.slot(light);
        }));
    }
    of_[parameter] = place->second;
    std::vector<runtime::Stretch>& on = all_[place->second].on;
    if (!on.empty() && on.back().parameter + on.back().count == parameter)
        ++on.back().count;
    else
        on.push_back({parameter, 1});
}

const runtime::Response* Responses::of(Index parameter) const {
    const auto at = of_.find(parameter);
    return at == of_.end() ? nullptr : &all_[at->second];
}

}  // namespace tallow::lower
