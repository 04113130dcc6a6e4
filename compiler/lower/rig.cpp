#include "compiler/lower/rig.hpp"

#include <algorithm>

#include "compiler/lower/responses.hpp"

namespace tallow::lower {
namespace {

using runtime::Roll;
using show::Index;

void add_universes(const show::Show& show, Roll& roll) {
    std::vector<std::uint16_t> numbers;
    for (const show::Fixture& f : show.fixtures) numbers.push_back(f.universe);
    std::sort(numbers.begin(), numbers.end());
    numbers.erase(std::unique(numbers.begin(), numbers.end()), numbers.end());
    for (const std::uint16_t number : numbers) roll.universes.push_back({number, 512});
}

std::uint32_t universe_index(const Roll& roll, std::uint16_t number) {
    const auto at =
        std::lower_bound(roll.universes.begin(), roll.universes.end(), number,
                         [](const runtime::Universe& u, std::uint16_t n) { return u.number < n; });
    return static_cast<std::uint32_t>(at - roll.universes.begin());
}

void add_parameters(const show::Show& show, Roll& roll) {
    runtime::Parameters& columns = roll.parameters;
    for (Index p = 0; p < show.parameters.size(); ++p) {
        const show::ParameterDef& def = show.definition(p);
        const show::Fixture& fixture = show.fixtures[show.parameters[p].fixture];
        const bool is_virtual = def.coarse == 0;
        const auto slot = [&](std::uint16_t place) {
            return static_cast<std::uint16_t>(place == 0 ? 0 : fixture.address + place - 1);
        };
        columns.key.push_back(parameter_key(show, p));
        columns.universe.push_back(is_virtual ? runtime::none : universe_index(roll, fixture.universe));
        columns.coarse.push_back(slot(def.coarse));
        columns.fine.push_back(slot(def.fine));
        columns.home.push_back(def.home);
        columns.kind.push_back(def.kind);
        columns.under.push_back(def.under == show::no_place ? runtime::none
                                                            : fixture.first_parameter + def.under);
    }
}

}  // namespace

void add_rig(const show::Show& show, Roll& roll) {
    add_universes(show, roll);
    add_parameters(show, roll);
    roll.responses = Responses(show).all();
}

}  // namespace tallow::lower
