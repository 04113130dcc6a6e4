// What could be saved is guessed at with a generous hand, since every guess is tried on the whole show: what
// fails is parted, and its parts are tried.
#include "compiler/fit/lossless.hpp"

#include <algorithm>
#include <map>
#include <numeric>
#include <set>

namespace tallow::fit {
namespace {

constexpr int most_trials = 64;  // of each search

// Changes that are made together.
struct Item {
    std::vector<std::vector<Index>> gangs;
    std::vector<Index> fixtures;  // that change their mode
    Index mode = 0;
};

class Search {
  public:
    explicit Search(const Placer& placer) : placer_(placer), order_(patch_order(placer.show())) {}

    // The plan with as many of the items as it takes without loss. Those that are asked for are tried whole,
    // then in halves.
    Plan accept(const Plan& plan, std::vector<Item> items) {
        if (items.empty() || trials_ >= most_trials) return plan;
        const Plan all = with(plan, items);
        ++trials_;
        const Placed placed = placer_.place(all);
        if (placed.trial.clean()) return all;
        if (placed.trial.compiles && drop(items, placed.trial.differs)) return accept(plan, std::move(items));
        if (items.size() == 1) {
            if (items.front().gangs.size() < 2) return plan;
            return accept_halves(plan, apart(items.front()));
        }
        return accept_halves(plan, std::move(items));
    }

  private:
    Plan with(Plan plan, const std::vector<Item>& items) const {
        for (const Item& item : items) {
            for (const std::vector<Index>& fixtures : item.gangs) gang(plan, order_, fixtures);
            for (const Index f : item.fixtures) plan.mode[f] = item.mode;
        }
        return plan;
    }

    Plan accept_halves(const Plan& plan, std::vector<Item> items) {
        const auto middle = items.begin() + static_cast<std::ptrdiff_t>(items.size() / 2);
        const Plan half = accept(plan, {items.begin(), middle});
        return accept(half, {middle, items.end()});
    }

    static std::vector<Item> apart(const Item& item) {
        std::vector<Item> items;
        for (const auto& fixtures : item.gangs) items.push_back({{fixtures}, {}, 0});
        return items;
    }

    // Fixtures that would lose keep their mode. Whether there were any.
    static bool drop(std::vector<Item>& items, const std::vector<Index>& differs) {
        const std::set<Index> lost(differs.begin(), differs.end());
        std::size_t dropped = 0;
        for (Item& item : items)
            dropped += std::erase_if(item.fixtures, [&](Index f) { return lost.contains(f); });
        std::erase_if(items, [](const Item& item) { return item.fixtures.empty() && item.gangs.empty(); });
        return dropped > 0;
    }

    const Placer& placer_;
    std::vector<Index> order_;
    int trials_ = 0;
};

// Fixtures of one type in one mode, by their name.
using Names = std::map<std::string, std::vector<Index>>;
std::map<std::pair<Index, Index>, Names> by_kind(const show::Show& show, const Plan& plan) {
    std::map<std::pair<Index, Index>, Names> kinds;
    for (Index f = 0; f < show.fixtures.size(); ++f)
        kinds[{show.fixtures[f].type, plan.mode[f]}][show.fixtures[f].name].push_back(f);
    return kinds;
}

std::vector<Index> smaller_modes(const show::Type& type, Index present) {
    std::vector<Index> modes;
    for (Index m = 0; m < type.modes.size(); ++m)
        if (is_smaller(type, present, m)) modes.push_back(m);
    std::stable_sort(modes.begin(), modes.end(),
                     [&](Index a, Index b) { return type.modes[a].footprint < type.modes[b].footprint; });
    return modes;
}

// Leaders of one type and mode that give the same light, two of them or more.
std::vector<std::vector<Index>> alike(const show::Show& show, const Placed& placed) {
    struct Look {
        Index type, mode, response;
        std::vector<std::tuple<Index, std::uint16_t, std::optional<Level>, std::vector<Mark>>> outputs;
        auto operator<=>(const Look&) const = default;
    };
    const Played& now = *placed.trial.after;
    std::map<Look, std::vector<Index>> found;
    for (const Index f : patch_order(show)) {
        if (placed.plan.leader[f] != f) continue;
        Look look{show.fixtures[f].type, placed.plan.mode[f], show.fixtures[f].response, {}};
        for (const Output& o : outputs_of(now.show, now.roll, now.histories, placed.trial.of_before[f]))
            look.outputs.emplace_back(o.attribute, o.cell, o.always, o.slots);
        found[std::move(look)].push_back(f);
    }
    std::vector<std::vector<Index>> gangs;
    for (auto& [look, fixtures] : found)
        if (fixtures.size() > 1) gangs.push_back(std::move(fixtures));
    std::sort(gangs.begin(), gangs.end());
    return gangs;
}

// Gangs of fixtures of one name are tried together: a wave over them may count half of them and stay the
// same.
std::vector<Item> by_names(const show::Show& show, const std::vector<std::vector<Index>>& gangs) {
    std::map<std::string, std::size_t> item_of;
    std::vector<Item> items;
    for (const std::vector<Index>& fixtures : gangs) {
        std::size_t into = items.size();
        for (const Index f : fixtures)
            if (const auto at = item_of.find(show.fixtures[f].name); at != item_of.end())
                into = std::min(into, at->second);
        if (into == items.size()) items.emplace_back();
        for (const Index f : fixtures) item_of.try_emplace(show.fixtures[f].name, into);
        items[into].gangs.push_back(fixtures);
    }
    return items;
}

}  // namespace

bool is_smaller(const show::Type& type, Index present, Index other) {
    const show::Mode &from = type.modes[present], &to = type.modes[other];
    return to.footprint < from.footprint && (to.cells == 0 || (from.cells > 0 && from.cells % to.cells == 0));
}

Plan with_smaller_modes(const Placer& placer, const Plan& plan) {
    const show::Show& show = placer.show();
    Plan best = plan;
    Search search(placer);
    for (const auto& [kind, names] : by_kind(show, plan)) {
        const auto& [type, present] = kind;
        for (const Index mode : smaller_modes(show.types[type], present)) {
            std::vector<Item> items;
            for (const auto& [name, fixtures] : names) {
                Item item{{}, {}, mode};
                for (const Index f : fixtures)
                    if (best.mode[f] == present) item.fixtures.push_back(f);
                if (!item.fixtures.empty()) items.push_back(std::move(item));
            }
            best = search.accept(best, std::move(items));
        }
    }
    return best;
}

Plan with_gangs(const Placer& placer, const Plan& plan) {
    const Placed placed = placer.place(plan);
    if (!placed.trial.compiles) return plan;
    return Search(placer).accept(plan, by_names(placer.show(), alike(placer.show(), placed)));
}

}  // namespace tallow::fit
