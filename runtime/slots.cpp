#include "runtime/slots.hpp"

#include <algorithm>

namespace tallow::runtime {

Slots::Slots(const Roll& roll) {
    for (const auto& universe : roll.universes) universes_.push_back({universe.slots, {}, {}, {}, {}});
    for (std::uint32_t p = 0; p < roll.parameters.size(); ++p)
        if (roll.parameters.universe[p] != none) place(roll.parameters, p);
}

void Slots::place(const Parameters& rig, std::uint32_t p) {
    Universe& universe = universes_[rig.universe[p]];
    const auto coarse = static_cast<std::uint16_t>(rig.coarse[p] - 1);
    const std::uint32_t above = rig.under[p];
    const bool multiplied = rig.kind[p] == Kind::colour && above != none && rig.universe[above] == none;
    const auto all_full = static_cast<std::uint32_t>(rig.size());
    if (rig.fine[p] != 0) {
        const auto fine = static_cast<std::uint16_t>(rig.fine[p] - 1);
        universe.wide.push_back({p, multiplied ? above : all_full, coarse, fine});
    } else if (multiplied) {
        universe.narrow.push_back({p, above, coarse, 0});
    } else if (!universe.plain.empty() &&
               universe.plain.back().parameter + universe.plain.back().count == p &&
               universe.plain.back().slot + universe.plain.back().count == coarse) {
        ++universe.plain.back().count;
    } else {
        universe.plain.push_back({p, 1, coarse});
    }
}

bool Slots::write(std::size_t index, const Level* levels) {
    Universe& universe = universes_[index];
    Bytes fresh{};
    for (const Plain& run : universe.plain) {
        const Level* const __restrict from = levels + run.parameter;
        std::uint8_t* const __restrict to = fresh.data() + run.slot;
        for (std::uint32_t i = 0; i < run.count; ++i) to[i] = runtime::narrow(from[i]);
    }
    for (const Product& part : universe.narrow)
        fresh[part.coarse] = runtime::narrow(scaled(levels[part.parameter], levels[part.factor]));
    for (const Product& part : universe.wide) {
        const Level level = scaled(levels[part.parameter], levels[part.factor]);
        fresh[part.coarse] = static_cast<std::uint8_t>(level >> 8);
        fresh[part.fine] = static_cast<std::uint8_t>(level & 255);
    }
    if (fresh == universe.bytes) return false;
    universe.bytes = fresh;
    return true;
}

std::span<const std::uint8_t> Slots::universe(std::size_t index) const {
    return std::span(universes_[index].bytes).first(universes_[index].slots);
}

}  // namespace tallow::runtime
