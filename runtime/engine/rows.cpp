#include "runtime/engine/rows.hpp"

#include <algorithm>
#include <utility>

namespace tallow::runtime {
namespace {

// Calls `each` once for each list and each parameter that a cue of it states, list by list.
template <class Each>
void each_stated(const Roll& roll, Each each) {
    std::vector<std::uint32_t> seen(roll.parameters.size(), none);  // by parameter: the last list that does
    for (std::uint32_t list = 0; list < roll.lists.size(); ++list)
        for (std::uint32_t i = 0; i < roll.lists[list].count; ++i)
            for (const Set& set : roll.cues[roll.lists[list].first + i].sets)
                for (const Run& run : set.runs)
                    for (std::uint32_t p = run.parameter; p < run.parameter + run.level.size(); ++p)
                        if (std::exchange(seen[p], list) != list) each(list, p);
}

}  // namespace

Rows::Rows(const Roll& roll) {
    const auto n = static_cast<std::uint32_t>(roll.parameters.size());
    for (std::uint32_t p = 0; p < n; ++p) parameter.push_back(p);
    parameter.push_back(none);
    if (roll.lists.size() > 1) share_out(roll);
    for (const Submaster& sub : roll.submasters) {
        submaster.push_back(static_cast<std::uint32_t>(size()));
        for (const Run& run : sub.runs)
            for (std::uint32_t i = 0; i < run.level.size(); ++i) parameter.push_back(run.parameter + i);
    }
}

void Rows::share_out(const Roll& roll) {
    shares_.resize(roll.parameters.size());
    each_stated(roll, [&](std::uint32_t, std::uint32_t p) { ++shares_[p].count; });
    each_stated(roll, [&](std::uint32_t list, std::uint32_t p) {
        if (shares_[p].count > 1) claims.push_back({p, list, p});
    });
    std::stable_sort(claims.begin(), claims.end(),
                     [](const Claim& a, const Claim& b) { return a.parameter < b.parameter; });
    std::uint32_t first = 0;
    for (std::uint32_t p = 0; p < shares_.size(); ++p) {
        Share& share = shares_[p];
        if (share.count < 2) share.count = 0;
        share.first = first;
        first += share.count;
        for (std::uint32_t c = share.first + 1; roll.parameters.kind[p] == Kind::intensity && c < first;
             ++c) {
            claims[c].row = static_cast<std::uint32_t>(size());
            parameter.push_back(p);
        }
    }
}

}  // namespace tallow::runtime
