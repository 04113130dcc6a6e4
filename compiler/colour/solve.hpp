// Emitter levels for a colour.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "compiler/colour/chromaticity.hpp"

namespace tallow::colour {

struct Emitter {
    Chromaticity xy;  // valid()
    double lumens;    // at full, above 0; an emitter without visible light is not passed
};

struct Light {
    Chromaticity xy;
    double lumens;
};
// What emitters show together at levels of 0..1, one for each; none where all are at 0.
std::optional<Light> light_of(std::span<const Emitter> emitters, std::span<const double> levels);

struct Mix {
    std::vector<double> level;  // 0..1, one for each emitter
    Chromaticity xy;            // of all of them together
    double luminance;           // lumens
    double distance;            // Δu′v′ from the target; under 1e-9 where it is reached
};

// Further than any two lights are apart: in place of a distance where there is no light.
inline constexpr double no_light = 1;

// The levels that show the target at the highest luminance. Several can tie where emitters stand on one line
// of the diagram: then those with the least total of levels, then with the least total of their squares. Out
// of gamut: the same for the nearest reachable point in u′v′. With no emitters: no levels, luminance 0, xy
// the target's, distance no_light.
Mix solve(std::span<const Emitter> emitters, Chromaticity target);

}  // namespace tallow::colour
