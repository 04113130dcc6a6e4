#include "compiler/fit/plan.hpp"

#include <algorithm>
#include <functional>
#include <numeric>
#include <set>
#include <tuple>

#include "compiler/desk/wiring.hpp"

namespace tallow::fit {
namespace {

namespace limits = runtime::limits;

// Puts one after another on free slots, and never goes back.
class Packer {
  public:
    using Allowed = std::function<bool(Slot)>;
    Packer(const show::Show& show, const Plan& plan, Allowed allowed)
        : show_(show), plan_(plan), allowed_(std::move(allowed)), at_(show.fixtures.size()) {}

    // Of fixtures that stand aside, those whose place is allowed and free.
    void keep_asides(const std::vector<Index>& order) {
        for (const Index f : order) {
            const show::Fixture& fixture = show_.fixtures[f];
            const Slot slot{fixture.universe, fixture.address};
            if (plan_.leader[f] == f && fixture.aside && fixture.leader == f &&
                free(slot, footprint(show_, plan_, f)))
                put(f, slot);
        }
    }

    // The rest, on these universes in turn; false where there is no room.
    bool pack(const std::vector<Index>& order, const std::vector<std::uint16_t>& universes) {
        std::size_t universe = 0;
        std::uint16_t slot = 1;
        for (const Index f : order) {
            if (plan_.leader[f] != f || placed_.contains(f)) continue;
            const std::uint16_t size = footprint(show_, plan_, f);
            for (; universe < universes.size(); ++universe, slot = 1) {
                while (slot + size - 1u <= limits::slots && !free({universes[universe], slot}, size)) ++slot;
                if (slot + size - 1u <= limits::slots) break;
            }
            if (universe == universes.size()) return false;
            put(f, {universes[universe], slot});
            slot = static_cast<std::uint16_t>(slot + size);
        }
        return true;
    }

    std::vector<Slot> all() {
        for (Index f = 0; f < at_.size(); ++f) at_[f] = at_[plan_.leader[f]];
        return std::move(at_);
    }

  private:
    bool free(Slot at, std::uint16_t size) const {
        for (std::uint16_t i = 0; i < size; ++i, ++at.slot)
            if (used_.contains(at) || !allowed_(at)) return false;
        return true;
    }

    void put(Index f, Slot at) {
        at_[f] = at;
        placed_.insert(f);
        for (std::uint16_t i = 0; i < footprint(show_, plan_, f); ++i, ++at.slot) used_.insert(at);
    }

    const show::Show& show_;
    const Plan& plan_;
    Allowed allowed_;
    std::vector<Slot> at_;
    std::set<Index> placed_;
    std::set<Slot> used_;
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

std::optional<std::vector<Slot>> pack(const show::Show& show, const show::Desk& desk, const Plan& plan,
                                      std::uint32_t channels, bool keep_asides) {
    const desk::Wiring wiring(desk);
    const auto allowed = [&](Slot at) {
        const std::uint16_t channel = wiring.channel(at.universe, at.slot);
        return channel != 0 && channel <= channels;
    };
    const std::vector<Index> order = patch_order(show);
    Packer packer(show, plan, allowed);
    if (keep_asides) packer.keep_asides(order);
    if (!packer.pack(order, universes_of(desk))) return std::nullopt;
    return packer.all();
}

std::vector<Slot> pack_anywhere(const show::Show& show, const show::Desk& desk, const Plan& plan) {
    std::vector<std::uint16_t> universes(limits::universe_max + 1u - desk.universe);
    std::iota(universes.begin(), universes.end(), desk.universe);
    Packer packer(show, plan, [](Slot) { return true; });
    packer.pack(patch_order(show), universes);
    return packer.all();
}

}  // namespace tallow::fit
