// Lights added up in XYZ, for tests of the solver.
#pragma once

#include <span>
#include <vector>

#include "compiler/colour/solve.hpp"

namespace tallow::support {

// The chromaticity of emitters at these levels, of which one at least is above 0.
inline colour::Chromaticity mix(std::span<const colour::Emitter> emitters, const std::vector<double>& level) {
    double x = 0, y = 0, sum = 0;
    for (std::size_t k = 0; k < emitters.size(); ++k) {
        const double whole = level[k] * emitters[k].lumens / emitters[k].xy.y;  // X + Y + Z
        x += whole * emitters[k].xy.x, y += whole * emitters[k].xy.y, sum += whole;
    }
    return {x / sum, y / sum};
}

}  // namespace tallow::support
