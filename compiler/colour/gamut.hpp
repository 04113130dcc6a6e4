// What a set of lights can mix, in u′v′: the polygon around their chromaticities.
#pragma once

#include <span>

#include "compiler/colour/chromaticity.hpp"

namespace tallow::colour {

// How near, in Δu′v′, counts as the same point.
inline constexpr double same_uv = 1e-10;

struct Edge {
    Uv from, to;  // equal where all lights are of one chromaticity
    Uv nearest;   // the point of it that is nearest to the target
};

struct Place {
    bool inside;  // of the polygon, off its edges
    Edge edge;    // the nearest one
};

// At least one point; they are equal or further apart than same_uv.
Place locate(std::span<const Uv> points, Uv target);

// Whether a point lies on the edge's straight line.
bool on_line(const Edge& edge, Uv point);

}  // namespace tallow::colour
