// Plans of fewer channels that lose nothing.
#pragma once

#include "compiler/fit/place.hpp"

namespace tallow::fit {

// Whether a fixture could run in another mode of its type: one of fewer slots, whose cells are those of the
// present mode, or even parts of them, or the whole.
bool is_smaller(const show::Type& type, Index present, Index other);

// Fixtures in the smallest mode of their type that gives the same light.
Plan with_smaller_modes(const Placer& placer, const Plan& plan);

// Fixtures of one type and mode that give the same light at all times on one address.
Plan with_gangs(const Placer& placer, const Plan& plan);

}  // namespace tallow::fit
