#include "compiler/palettes/svg.hpp"

#include <fmt/format.h>

#include "compiler/colour/srgb.hpp"
#include "compiler/emit/markup.hpp"

namespace tallow::palettes::svg {

std::string fill_of(colour::Chromaticity xy) {
    const colour::CodedRgb c = colour::coded(colour::brightest_rgb(xy));
    return fmt::format("#{:02x}{:02x}{:02x}", c.r, c.g, c.b);
}

std::string line(Spot from, Spot to, std::string_view attributes) {
    return fmt::format("<line x1=\"{:.2f}\" y1=\"{:.2f}\" x2=\"{:.2f}\" y2=\"{:.2f}\" {}/>\n", from.x, from.y,
                       to.x, to.y, attributes);
}

std::string path(const std::vector<Spot>& spots, bool closed, std::string_view attributes) {
    std::string d;
    for (const Spot& s : spots) d += fmt::format("{}{:.2f} {:.2f}", d.empty() ? "M" : "L", s.x, s.y);
    return fmt::format("<path d=\"{}{}\" {}/>\n", d, closed ? "Z" : "", attributes);
}

std::string circle(Spot at, double radius, std::string_view attributes) {
    return fmt::format("<circle cx=\"{:.2f}\" cy=\"{:.2f}\" r=\"{:.2f}\" {}/>\n", at.x, at.y, radius,
                       attributes);
}

std::string diamond(Spot at, double radius, std::string_view attributes) {
    return path({{at.x, at.y - radius}, {at.x + radius, at.y}, {at.x, at.y + radius}, {at.x - radius, at.y}},
                true, attributes);
}

std::string words(Spot at, std::string_view text, std::string_view attributes) {
    return fmt::format("<text x=\"{:.2f}\" y=\"{:.2f}\" {}>{}</text>\n", at.x, at.y, attributes,
                       emit::escaped(text));
}

}  // namespace tallow::palettes::svg
