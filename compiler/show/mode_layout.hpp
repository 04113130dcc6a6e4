// From a mode's slots, as they are listed, to its parameters.
#pragma once

#include <functional>

#include "compiler/show/show.hpp"

namespace tallow::show {

struct Slot {
    Index attribute = none;  // none: an unused slot
    std::uint16_t cell = 0;  // 0: of the whole fixture
    bool fine = false;
    Span span{};
};

// What is wrong with a list of slots, and where.
using SlotFault = std::function<void(Span where, std::string message, bool fine)>;

// What the slots of a type are: attributes, `wheel` perhaps none.
struct SlotRoles {
    Index intensity, pan, tilt, wheel;
    bool filtered;                                   // colours come from filters, which cannot dim
    std::function<std::uint16_t(Index)> emitter_of;  // an attribute's place in Type::emitters, or no_place
};

// Fills in the parameters, their order, virtual intensities, what stands under what, and the parts (Mode).
void lay_out(Mode& mode, const std::vector<Slot>& slots, const SlotRoles& roles, const SlotFault& fault);

}  // namespace tallow::show
