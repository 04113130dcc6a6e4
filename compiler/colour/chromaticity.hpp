// Points of the chromaticity diagram: what makes a colour apart from its brightness.
#pragma once

namespace tallow::colour {

// CIE 1931, 2° observer.
struct Chromaticity {
    double x, y;
};

// CIE 1976 u′v′ (CIE 15): equal distances look about equally large.
struct Uv {
    double u, v;
};

// Whether tristimulus values have it that are not below 0: x ≥ 0, y > 0, x + y ≤ 1 (a billionth is forgiven).
// All else in this folder relies on it. Not each such is light: see spectral.hpp.
bool valid(Chromaticity c);

// u′ = 4x/(−2x + 12y + 3), v′ = 9y/(−2x + 12y + 3) (CIE 15), and back.
Uv to_uv(Chromaticity c);
Chromaticity to_xy(Uv c);

// Δu′v′, the straight distance. About .0011 is one just noticeable step (CIE TN 001).
double distance_uv(Uv a, Uv b);
double distance_uv(Chromaticity a, Chromaticity b);

}  // namespace tallow::colour
