// The light that levels come to.
#pragma once

#include <optional>
#include <span>

#include "compiler/show/show.hpp"

namespace tallow::palettes {

struct Light {
    colour::Chromaticity xy;
    double lumens = 0;  // 0 where the type does not tell: filters
};

// Of levels 0..65535, one for each of Type::emitters, at full intensity. Emitters add up; filters take red,
// green and blue from white as track::mix has it, which is approximate. None where nothing shines.
std::optional<Light> light_of(const show::Type& type, std::span<const double> levels);

}  // namespace tallow::palettes
