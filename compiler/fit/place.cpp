#include "compiler/fit/place.hpp"

#include <algorithm>

namespace tallow::fit {

std::optional<std::vector<Slot>> Placer::addresses(const Plan& plan, Index layout, bool keep_asides) const {
    const std::uint32_t channels = desk_.layouts[layout].channels;
    if (slots_of(show(), plan) > channels) return std::nullopt;
    return pack(show(), desk_, plan, channels, keep_asides);
}

bool Placer::fits(const Plan& plan, Index layout) const {
    return addresses(plan, layout, true) || addresses(plan, layout, false);
}

Placed Placer::place(const Plan& plan) const {
    Placed placed{plan, {}, {}, {}};
    Index smallest = show::none;
    for (Index l = 0; l < desk_.layouts.size(); ++l) {
        if (!fits(plan, l)) continue;
        placed.layouts.push_back(l);
        if (smallest == show::none || desk_.layouts[l].channels < desk_.layouts[smallest].channels)
            smallest = l;
    }
    if (smallest == show::none) {
        placed.at = pack_beyond(show(), desk_, plan, most_channels(desk_));
        placed.trial = tester_.test(plan, placed.at);
        return placed;
    }
    for (const bool keep : {true, false}) {
        auto at = addresses(plan, smallest, keep);
        if (!at || (!keep && *at == placed.at)) continue;
        Trial trial = tester_.test(plan, *at);
        const bool better = placed.at.empty() || (trial.clean() && !placed.trial.clean());
        if (!better) continue;
        placed.at = std::move(*at);
        placed.trial = std::move(trial);
        if (placed.trial.clean()) break;
    }
    return placed;
}

}  // namespace tallow::fit
