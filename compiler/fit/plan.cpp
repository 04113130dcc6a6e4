#include "compiler/fit/plan.hpp"

#include <algorithm>
#include <functional>
#include <set>

#include "compiler/desk/wiring.hpp"

namespace tallow::fit {
namespace {

namespace limits = runtime::limits;

using Allowed = std::function<bool(Slot)>;

// Puts one after another on free slots, and never goes back.
class Packer {
  public:
    Packer(const show::Show& show, const Plan& plan) : show_(show), plan_(plan), at_(show.fixtures.size()) {}

    // Of fixtures that stand aside, those whose place is allowed and free.
    void keep_asides(const std::vector<Index>& order, const Allowed& allowed) {
        for (const Index f : order) {
            const show::Fixture& fixture = show_.fixtures[f];
            const Slot slot{fixture.universe, fixture.address};
            if (plan_.leader[f] == f && fixture.aside && fixture.leader == f &&
                free(slot, footprint(show_, plan_, f), allowed))
                put(f, slot);
        }
    }

    // The rest, on these universes in turn, from where the last call came to; false at the first that has no
    // room. A further call's universes begin with the same ones.
    bool pack(const std::vector<Index>& order, const std::vector<std::uint16_t>& universes,
              const Allowed& allowed) {
        for (const Index f : order) {
            if (plan_.leader[f] != f || placed_.contains(f)) continue;
            const std::uint16_t size = footprint(show_, plan_, f);
            std::uint16_t slot = next_slot_;
            std::size_t u = next_universe_;
            for (; u < universes.size(); ++u, slot = 1) {
                while (slot + size - 1u <= limits::slots && !free({universes[u], slot}, size, allowed))
                    ++slot;
                if (slot + size - 1u <= limits::slots) break;
            }
            if (u == universes.size()) return false;
            put(f, {universes[u], slot});
            next_universe_ = u;
            next_slot_ = static_cast<std::uint16_t>(slot + size);
        }
        return true;
    }

    std::vector<Slot> all() {
        for (Index f = 0; f < at_.size(); ++f) at_[f] = at_[plan_.leader[f]];
        return std::move(at_);
    }

  private:
    bool free(Slot at, std::uint16_t size, const Allowed& allowed) const {
        for (std::uint16_t i = 0; i < size; ++i, ++at.slot)
            if (used_.contains(at) || !allowed(at)) return false;
        return true;
    }

    void put(Index f, Slot at) {
        at_[f] = at;
        placed_.insert(f);
        for (std::uint16_t i = 0; i < footprint(show_, plan_, f); ++i, ++at.slot) used_.insert(at);
    }

    const show::Show& show_;
    const Plan& plan_;
    std::vector<Slot> at_;
    std::set<Index> placed_;
    std::set<Slot> used_;
    std::size_t next_universe_ = 0;
    std::uint16_t next_slot_ = 1;
};

// The desk's own universe first.
std::vector<std::uint16_t> universes_of(const show::Desk& desk) {
    std::set<std::uint16_t> others;
    for (const show::DeskChannel& c : desk.channels) others.insert(c.universe);
    others.erase(desk.universe);
    std::vector<std::uint16_t> all{desk.universe};
    all.insert(all.end(), others.begin(), others.end());
    return all;
}

Allowed on_channels(const desk::Wiring& wiring, std::uint32_t channels) {
    return [&wiring, channels](Slot at) {
        const std::uint16_t channel = wiring.channel(at.universe, at.slot);
        return channel != 0 && channel <= channels;
    };
}

}  // namespace

Plan as_patched(const show::Show& show) {
    Plan plan;
    for (const show::Fixture& f : show.fixtures) {
        plan.mode.push_back(f.mode);
        plan.leader.push_back(f.leader);
    }
    return plan;
}

void gang(Plan& plan, const std::vector<Index>& order, const std::vector<Index>& fixtures) {
    std::set<Index> leaders;
    for (const Index f : fixtures) leaders.insert(plan.leader[f]);
    const auto first =
        std::find_if(order.begin(), order.end(), [&](Index f) { return leaders.contains(plan.leader[f]); });
    for (Index& leader : plan.leader)
        if (leaders.contains(leader)) leader = *first;
}

std::uint32_t slots_of(const show::Show& show, const Plan& plan) {
    std::uint32_t slots = 0;
    for (Index f = 0; f < plan.leader.size(); ++f)
        if (plan.leader[f] == f) slots += footprint(show, plan, f);
    return slots;
}

std::uint32_t most_channels(const show::Desk& desk) {
    std::uint32_t most = 0;
    for (const show::Layout& layout : desk.layouts) most = std::max(most, layout.channels);
    return most;
}

std::optional<std::vector<Slot>> pack(const show::Show& show, const show::Desk& desk, const Plan& plan,
                                      std::uint32_t channels, bool keep_asides) {
    const desk::Wiring wiring(desk);
    const Allowed allowed = on_channels(wiring, channels);
    const std::vector<Index> order = patch_order(show);
    Packer packer(show, plan);
    if (keep_asides) packer.keep_asides(order, allowed);
    if (!packer.pack(order, universes_of(desk), allowed)) return std::nullopt;
    return packer.all();
}

std::vector<Slot> pack_beyond(const show::Show& show, const show::Desk& desk, const Plan& plan,
                              std::uint32_t channels) {
    const desk::Wiring wiring(desk);
    const std::vector<Index> order = patch_order(show);
    std::vector<std::uint16_t> universes = universes_of(desk);
    Packer packer(show, plan);
    if (packer.pack(order, universes, on_channels(wiring, channels)) ||
        packer.pack(order, universes, on_channels(wiring, limits::slots)))
        return packer.all();
    const std::set<std::uint16_t> played(universes.begin(), universes.end());
    for (std::uint32_t u = *played.rbegin() + 1u; u <= limits::universe_max; ++u)
        universes.push_back(static_cast<std::uint16_t>(u));
    packer.pack(order, universes, [&](Slot at) {
        return !played.contains(at.universe) || wiring.channel(at.universe, at.slot) != 0;
    });
    return packer.all();
}

std::uint32_t slots_beyond(const show::Show& show, const show::Desk& desk, const Plan& plan,
                           const std::vector<Slot>& at, std::uint32_t channels) {
    const desk::Wiring wiring(desk);
    const Allowed inside = on_channels(wiring, channels);
    std::uint32_t beyond = 0;
    for (Index f = 0; f < at.size(); ++f) {
        Slot slot = at[f];
        for (std::uint16_t i = 0; plan.leader[f] == f && i < footprint(show, plan, f); ++i, ++slot.slot)
            beyond += !inside(slot);
    }
    return beyond;
}

}  // namespace tallow::fit
