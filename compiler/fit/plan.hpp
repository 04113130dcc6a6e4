// A way to run a rig: the mode of each fixture, and which of them share an address.
#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "compiler/show/patch_order.hpp"

namespace tallow::fit {

using show::Index;

struct Plan {
    std::vector<Index> mode;    // of each fixture: into its Type::modes
    std::vector<Index> leader;  // of each fixture: the first of its gang by patch_order(); itself otherwise
    bool operator==(const Plan&) const = default;
};

// As the show has it. All indices are of Show::fixtures.
Plan as_patched(const show::Show& show);

// Puts the fixtures on one address. The first of them by patch_order() leads.
void gang(Plan& plan, const std::vector<Index>& order, const std::vector<Index>& fixtures);

// How many slots the plan takes.
std::uint32_t slots_of(const show::Show& show, const Plan& plan);

inline std::uint16_t footprint(const show::Show& show, const Plan& plan, Index fixture) {
    return show.types[show.fixtures[fixture].type].modes[plan.mode[fixture]].footprint;
}

// Of the largest layout; 0: the desk has none.
std::uint32_t most_channels(const show::Desk& desk);

struct Slot {
    std::uint16_t universe = 1, slot = 1;
    auto operator<=>(const Slot&) const = default;
};

// The first slot of each fixture, packed from the first slot of the desk's universe on by patch_order(), on
// slots alone that are on the desk's first `channels` channels. A fixture whose line says `at` stays where it
// is, if its slots are among those and `keep_asides`. None: it does not fit.
std::optional<std::vector<Slot>> pack(const show::Show& show, const show::Desk& desk, const Plan& plan,
                                      std::uint32_t channels, bool keep_asides);

// Of a plan that does not fit: in the same order, as many as have room on these channels, then what follows
// on the desk's further channels, then on the universes behind those that the desk plays.
std::vector<Slot> pack_beyond(const show::Show& show, const show::Desk& desk, const Plan& plan,
                              std::uint32_t channels);

// How many of the slots of fixtures that stand so are on none of the desk's first `channels` channels.
std::uint32_t slots_beyond(const show::Show& show, const show::Desk& desk, const Plan& plan,
                           const std::vector<Slot>& at, std::uint32_t channels);

}  // namespace tallow::fit
