#include "compiler/show/mode_layout.hpp"

#include <algorithm>

namespace tallow::show {
namespace {

class ModeBuilder {
  public:
    ModeBuilder(Mode& mode, const SlotRoles& roles, const SlotFault& fault)
        : mode_(mode), roles_(roles), fault_(fault) {}

    void run(const std::vector<Slot>& slots) {
        place_slots(slots);
        add_virtual_intensities();
        std::stable_sort(mode_.parameters.begin(), mode_.parameters.end(),
                         [](const ParameterDef& a, const ParameterDef& b) { return order(a) < order(b); });
        link();
        fill_parts();
    }

  private:
    // A virtual intensity sorts right before the slot that is kept in its `fine` meanwhile.
    static std::uint32_t order(const ParameterDef& p) {
        return p.coarse != 0 ? 2u * p.coarse : 2u * p.fine - 1;
    }

    ParameterDef* find(Index attribute, std::uint16_t cell) {
        for (ParameterDef& p : mode_.parameters)
            if (p.attribute == attribute && p.cell == cell) return &p;
        return nullptr;
    }

    Kind kind_of(Index attribute) const {
        if (attribute == roles_.intensity) return Kind::intensity;
        if (roles_.emitter_of(attribute) != no_place) return Kind::colour;
        return attribute == roles_.pan || attribute == roles_.tilt ? Kind::position : Kind::beam;
    }

    void place_slots(const std::vector<Slot>& slots) {
        for (std::size_t i = 0; i < slots.size(); ++i) {
            const Slot& slot = slots[i];
            if (slot.attribute == none || slot.fine) continue;
            const auto coarse = static_cast<std::uint16_t>(i + 1);
            if (find(slot.attribute, slot.cell) != nullptr) {
                fault_(slot.span, "this slot is in the mode already", false);
                continue;
            }
            ParameterDef p{slot.attribute};
            p.cell = slot.cell;
            p.kind = kind_of(slot.attribute);
            p.coarse = coarse;
            p.emitter = roles_.emitter_of(slot.attribute);
            mode_.parameters.push_back(p);
        }
        for (std::size_t i = 0; i < slots.size(); ++i) {
            if (!slots[i].fine) continue;
            ParameterDef* p = find(slots[i].attribute, slots[i].cell);
            if (p == nullptr || p->fine != 0)
                fault_(slots[i].span,
                       p == nullptr ? "a fine slot needs its coarse one in the same mode"
                                    : "this slot is in the mode already",
                       p == nullptr);
            else
                p->fine = static_cast<std::uint16_t>(i + 1);
        }
    }

    // The fixture itself (cell 0) and each cell: where there is colour and no intensity slot, a virtual one.
    void add_virtual_intensities() {
        if (roles_.filtered) return;
        for (std::uint16_t cell = 0; cell <= mode_.cells; ++cell) {
            if (find(roles_.intensity, cell) != nullptr) continue;
            const auto first =
                std::find_if(mode_.parameters.begin(), mode_.parameters.end(),
                             [&](const ParameterDef& p) { return p.cell == cell && p.kind == Kind::colour; });
            if (first == mode_.parameters.end()) continue;
            ParameterDef p{roles_.intensity};
            p.cell = cell;
            p.kind = Kind::intensity;
            p.fine = first->coarse;  // for the order; taken away in link()
            mode_.parameters.push_back(p);
        }
    }

    std::uint16_t place_of(Index attribute, std::uint16_t cell) {
        const ParameterDef* p = find(attribute, cell);
        return p == nullptr ? no_place : static_cast<std::uint16_t>(p - mode_.parameters.data());
    }

    void link() {
        const std::uint16_t master = place_of(roles_.intensity, 0);
        for (ParameterDef& p : mode_.parameters) {
            const bool is_virtual = p.coarse == 0;
            if (is_virtual) p.fine = 0;
            const std::uint16_t own = p.cell == 0 ? master : place_of(roles_.intensity, p.cell);
            p.under = p.kind == Kind::intensity || own == no_place ? master : own;
            if (p.kind == Kind::intensity && p.cell == 0) p.under = no_place;
            if (p.kind == Kind::position) p.home = runtime::level_half;
        }
        // Only a real master stands over cells; a virtual one scales the fixture's own emitters alone.
        const bool real_master = master != no_place && mode_.parameters[master].coarse != 0;
        for (ParameterDef& p : mode_.parameters) {
            if (p.cell == 0) continue;
            if (!real_master && p.under == master) p.under = no_place;
            if (real_master && p.kind == Kind::intensity) p.home = runtime::full;
        }
    }

    void fill_parts() {
        mode_.parts.assign(mode_.cells + 1u, {});
        const std::uint16_t master = place_of(roles_.intensity, 0);
        const bool real_master = master != no_place && mode_.parameters[master].coarse != 0;
        const auto count = static_cast<std::uint16_t>(mode_.parameters.size());  // at most 1024
        for (std::uint16_t i = 0; i < count; ++i) {
            const ParameterDef& p = mode_.parameters[i];
            for (const std::uint16_t cell : {std::uint16_t{0}, p.cell}) {
                Part& part = mode_.parts[cell];
                const bool masked = cell == 0 && real_master && i != master;
                if (p.kind == Kind::intensity && !masked) part.intensity.push_back(i);
                if (p.kind == Kind::colour) part.emitters.push_back(i);
                if (p.kind == Kind::position) part.position.push_back(i);
                if (p.kind == Kind::beam) part.beam.push_back(i);
                if (p.attribute == roles_.wheel && p.cell == cell) part.wheel = i;
                if (p.cell == 0) break;
            }
        }
    }

    Mode& mode_;
    const SlotRoles& roles_;
    const SlotFault& fault_;
};

}  // namespace

void lay_out(Mode& mode, const std::vector<Slot>& slots, const SlotRoles& roles, const SlotFault& fault) {
    mode.footprint = static_cast<std::uint16_t>(slots.size());
    ModeBuilder(mode, roles, fault).run(slots);
}

}  // namespace tallow::show
