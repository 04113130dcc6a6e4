#include "compiler/check/typical.hpp"

#include <algorithm>
#include <fmt/format.h>
#include <set>
#include <span>
#include <utility>

#include "compiler/text/wrap.hpp"

namespace tallow::check {
namespace {

constexpr std::size_t few = 5, columns = 80;

// Whose emitters decide how such fixtures show a colour.
std::span<const Index> types_behind(const Show& show, const track::Alike& fixtures) {
    if (fixtures.balance == show::none) return {&fixtures.type, 1};
    return show.balances[fixtures.balance].types;
}

class Uses {
  public:
    explicit Uses(const Show& show) : show_(show) {
        std::vector<bool> in_use(show.types.size());
        for (const show::Fixture& f : show.fixtures)
            if (f.type != show::none) in_use[f.type] = true;
        for (Index t = 0; t < show.types.size(); ++t)
            if (in_use[t] && show.types[t].typical()) all_.push_back({t, {}});
    }

    void add(const track::Alike& fixtures, const std::string& name) {
        const auto types = types_behind(show_, fixtures);
        for (TypicalUse& use : all_)
            if (std::find(types.begin(), types.end(), use.type) != types.end() &&
                known_.emplace(use.type, name).second)
                use.colours.push_back(name);
    }

    std::vector<TypicalUse> take() { return std::move(all_); }

  private:
    const Show& show_;
    std::vector<TypicalUse> all_;
    std::set<std::pair<Index, std::string>> known_;  // names by type
};

}  // namespace

std::vector<TypicalUse> typical_uses(const Show& show, const track::Colours& colours,
                                     const std::set<HueTurn>& hues) {
    Uses uses(show);
    for (const auto& asked : colours.asked())
        if (asked.colour->solved && asked.colour->lumens > 0)  // filters and wheels have none
            uses.add(asked.fixtures,
                     asked.palette ? show.palettes[asked.what].name : show.colours[asked.what].text);
    for (const HueTurn& turn : hues) uses.add(turn.fixtures, "wave " + show.waves[turn.wave].name);
    return uses.take();
}

bool rests_on_typical(const Show& show, track::Alike fixtures) {
    const auto types = types_behind(show, fixtures);
    return std::any_of(types.begin(), types.end(), [&](Index t) { return show.types[t].typical(); });
}

std::string render(const std::vector<TypicalUse>& uses, const Show& show) {
    std::string out;
    for (const TypicalUse& use : uses) {
        std::string names;
        for (std::size_t i = 0; i < use.colours.size() && i < few; ++i)
            names += (i == 0 ? "" : ", ") + use.colours[i];
        if (use.colours.size() > few) names += fmt::format(" and {} more", use.colours.size() - few);
        if (names.empty()) names = "no colour of this show";
        out += text::indented(fmt::format("{}: {}", show.types[use.type].name, names), 4, columns);
    }
    return out;
}

}  // namespace tallow::check
