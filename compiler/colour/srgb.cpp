#include "compiler/colour/srgb.hpp"

#include <algorithm>
#include <cmath>

namespace tallow::colour {
namespace {

// a^(1/5) for a in .007..1, by Newton's method from above: 12 steps reach the last bit.
double fifth_root(double a) {
    double y = 1;
    for (int step = 0; step < 12; ++step) y = (4 * y + a / (y * y * y * y)) / 5;
    return y;
}

// The light of a coded value, both 0..1 (IEC 61966-2-1). x^2.4 is x²·(x²)^(1/5).
double decode(double c) {
    if (c <= .04045) return c / 12.92;
    const double x = (c + .055) / 1.055, square = x * x;
    return square * fifth_root(square);
}

Chromaticity of_coded(double r, double g, double b) {
    return chromaticity_of({decode(r), decode(g), decode(b)});
}

}  // namespace

std::optional<Chromaticity> from_srgb(std::uint8_t r, std::uint8_t g, std::uint8_t b) {
    if (r == 0 && g == 0 && b == 0) return std::nullopt;
    return of_coded(r / 255.0, g / 255.0, b / 255.0);
}

// The standard's primaries and white in XYZ; its own matrix is this one rounded to four digits.
Chromaticity chromaticity_of(LinearRgb rgb) {
    const auto [r, g, b] = rgb;
    const double x = .4123907993 * r + .3575843394 * g + .1804807884 * b;
    const double y = .2126390059 * r + .7151686788 * g + .0721923154 * b;
    const double z = .0193308187 * r + .1191947798 * g + .9505321522 * b;
    return {x / (x + y + z), y / (x + y + z)};
}

// By the inverse of the same matrix.
LinearRgb brightest_rgb(Chromaticity c) {
    const double x = c.x, y = c.y, z = 1 - c.x - c.y;
    const double r = 3.2409699419 * x - 1.5373831776 * y - .4986107603 * z;
    const double g = -.9692436363 * x + 1.8759675015 * y + .0415550574 * z;
    const double b = .0556300797 * x - .2039769589 * y + 1.0569715142 * z;
    const double largest = std::max({r, g, b});
    return {std::max(r, 0.0) / largest, std::max(g, 0.0) / largest, std::max(b, 0.0) / largest};
}

// The coded value whose light is the nearest: halved in steps, since its light only rises.
CodedRgb coded(LinearRgb rgb) {
    const auto code = [](double light) {
        int low = 0, high = 255;
        while (low < high) {
            const int middle = (low + high) / 2;
            if (decode((middle + .5) / 255) < light)
                low = middle + 1;
            else
                high = middle;
        }
        return static_cast<std::uint8_t>(low);
    };
    return {code(rgb.r), code(rgb.g), code(rgb.b)};
}

Chromaticity from_hue(double degrees, double saturation) {
    // Each primary is full within 60° of its own angle and gone from 120° on.
    const auto primary = [&](double at) {
        const double turned = degrees - at;
        const double away = std::fabs(turned - 360 * std::floor(turned / 360 + .5));
        return 1 - saturation * (1 - std::clamp(2 - away / 60, 0.0, 1.0));
    };
    return of_coded(primary(0), primary(120), primary(240));
}

}  // namespace tallow::colour
