#include "runtime/engine/slots.hpp"

#include <algorithm>

#include "runtime/engine/response.hpp"

namespace tallow::runtime {

Slots::Slots(const Roll& roll) {
    for (const auto& universe : roll.universes) universes_.push_back({universe.slots, {}, {}, {}, {}, {}});
    if (!roll.responses.empty()) make_tables(roll);
    for (std::uint32_t p = 0; p < roll.parameters.size(); ++p)
        if (roll.parameters.universe[p] != none) place(roll.parameters, p);
}

void Slots::make_tables(const Roll& roll) {
    tables_.push_back(response_table({{0, full}, {0, full}, {}}));
    for (const Response& response : roll.responses) tables_.push_back(response_table(response));
    table_of_.assign(roll.parameters.size() + 1, tables_[0].data());
    for (std::size_t r = 0; r < roll.responses.size(); ++r)
        for (const Stretch& on : roll.responses[r].on)
            std::fill_n(table_of_.begin() + on.parameter, on.count, tables_[r + 1].data());
}

void Slots::place(const Parameters& rig, std::uint32_t p) {
    Universe& universe = universes_[rig.universe[p]];
    const auto coarse = static_cast<std::uint16_t>(rig.coarse[p] - 1);
    const std::uint32_t above = rig.under[p];
    const bool multiplied = rig.kind[p] == Kind::colour && above != none && rig.universe[above] == none;
    const auto all_full = static_cast<std::uint32_t>(rig.size());
    const auto fine = static_cast<std::uint16_t>(rig.fine[p] - 1);
    const Product product{p, multiplied ? above : all_full, coarse, fine};
    const auto is_bent = [&](std::uint32_t q) {
        return !table_of_.empty() && table_of_[q] != tables_[0].data();
    };
    if (is_bent(p) || is_bent(product.factor)) {
        universe.bent.push_back({product, table_of_[product.factor], table_of_[p], rig.fine[p] != 0});
    } else if (rig.fine[p] != 0) {
        universe.wide.push_back(product);
    } else if (multiplied) {
        universe.narrow.push_back(product);
    } else if (!universe.plain.empty() &&
               universe.plain.back().parameter + universe.plain.back().count == p &&
               universe.plain.back().slot + universe.plain.back().count == coarse) {
        ++universe.plain.back().count;
    } else {
        universe.plain.push_back({p, 1, coarse});
    }
}

void Slots::put(Bytes& bytes, const Product& part, bool wide, Level level) {
    bytes[part.coarse] = wide ? static_cast<std::uint8_t>(level >> 8) : narrow(level);
    if (wide) bytes[part.fine] = static_cast<std::uint8_t>(level & 255);
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
        put(fresh, part, false, scaled(levels[part.parameter], levels[part.factor]));
    for (const Product& part : universe.wide)
        put(fresh, part, true, scaled(levels[part.parameter], levels[part.factor]));
    for (const Bent& part : universe.bent) {
        const Level factor = part.factor[levels[part.product.factor]];
        put(fresh, part.product, part.wide, part.sent[scaled(levels[part.product.parameter], factor)]);
    }
    if (fresh == universe.bytes) return false;
    universe.bytes = fresh;
    return true;
}

std::span<const std::uint8_t> Slots::universe(std::size_t index) const {
    return std::span(universes_[index].bytes).first(universes_[index].slots);
}

}  // namespace tallow::runtime
