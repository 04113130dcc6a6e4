// The light that levels come to.
#pragma once

#include <optional>
#include <span>

#include "compiler/show/show.hpp"

namespace tallow::track {

// Of levels 0..65535, one for each of Type::emitters, at full intensity. Emitters add up; filters take red,
// green and blue from white as track::mix has it, which is approximate and
// has no lumens (0). None where nothing shines.
std::optional<colour::Light> light_of(const show::Type& type, std::span<const double> levels);

}  // namespace tallow::track
