#include "compiler/palettes/chart.hpp"

#include <array>
#include <cmath>
#include <fmt/format.h>

#include "compiler/colour/spectral.hpp"
#include "compiler/colour/temperature.hpp"

namespace tallow::palettes {
namespace {

using svg::Spot;

constexpr double scale = 1200;  // units of the page for 1 of u′ or v′
constexpr double tick_size = 10;

// Text that stands beside a tick, in its direction; kept free of other names.
std::string tick_text(Labels& labels, Spot end, Spot direction, const std::string& text) {
    const double width = text_width(text, tick_size);
    const double x = end.x + 4 * direction.x - width * (1 - direction.x) / 2;
    const double y = end.y + 7 * direction.y + tick_size * .35;
    labels.keep_free({x, y - tick_size * .8, x + width, y + tick_size * .2});
    return svg::words({x, y}, text, fmt::format("font-size=\"{}\" fill=\"#444\" class=\"halo\"", tick_size));
}

// A tick across a line from `at`, outwards by `length`.
std::string tick(Labels& labels, Spot at, Spot direction, double length, const std::string& text) {
    const Spot end{at.x + length * direction.x, at.y + length * direction.y};
    return svg::line(at, end, "stroke=\"#444\" stroke-width=\"1\"") + tick_text(labels, end, direction, text);
}

Spot unit(double x, double y) {
    const double length = std::sqrt(x * x + y * y);
    return {x / length, y / length};
}

std::string axes() {
    std::string out;
    for (int i = 0; i <= 6; ++i) {
        const double part = i / 10.0;
        const Spot u = on_page(colour::Uv{part, 0}), v = on_page(colour::Uv{0, part});
        const std::string text = fmt::format("{:.1f}", part);
        out += svg::line(u, {u.x, plot.top}, "stroke=\"#ddd\" stroke-width=\"0.7\"");
        out += svg::line(v, {plot.right, v.y}, "stroke=\"#ddd\" stroke-width=\"0.7\"");
        out += svg::words({u.x, plot.bottom + 18}, text, "font-size=\"12\" text-anchor=\"middle\"");
        out += svg::words({plot.left - 8, v.y + 4}, text, "font-size=\"12\" text-anchor=\"end\"");
    }
    out += svg::path({{plot.left, plot.top}, {plot.left, plot.bottom}, {plot.right, plot.bottom}}, false,
                     "fill=\"none\" stroke=\"#000\" stroke-width=\"1\"");
    out += svg::words({(plot.left + plot.right) / 2, plot.bottom + 36}, "u\u2032",
                      "font-size=\"14\" text-anchor=\"middle\"");
    return out + svg::words({plot.left - 40, (plot.top + plot.bottom) / 2}, "v\u2032",
                            "font-size=\"14\" text-anchor=\"middle\"");
}

std::string spectral_locus(Labels& labels) {
    std::vector<Spot> spots;
    for (int nm = colour::spectral_first_nm; nm <= colour::spectral_last_nm; nm += 5)
        spots.push_back(on_page(colour::spectral(nm)));
    std::string out =
        svg::path(spots, false, "fill=\"none\" stroke=\"#000\" stroke-width=\"2\" stroke-linejoin=\"round\"");
    out += svg::line(spots.front(), spots.back(),
                     "stroke=\"#aaa\" stroke-width=\"2\" stroke-dasharray=\"10 4\"");
    constexpr std::array ticks{440, 460, 470, 480, 490, 500, 510, 520, 540, 560, 580, 600, 620, 640, 700};
    for (const int nm : ticks) {
        // Outwards: across the line from the wavelength before to the one behind.
        const Spot before = on_page(colour::spectral(nm - 5)), behind = on_page(colour::spectral(nm + 5));
        out += tick(labels, on_page(colour::spectral(nm)), unit(behind.y - before.y, before.x - behind.x), 7,
                    fmt::format("{}", nm));
    }
    return out;
}

std::string planckian_locus(Labels& labels) {
    std::vector<Spot> spots;
    for (int mired = 40; mired <= 1000; mired += 10)
        spots.push_back(on_page(colour::planckian_locus(1e6 / mired)));
    std::string out = svg::path(spots, false, "fill=\"none\" stroke=\"#888\" stroke-width=\"1.3\"");
    for (const int kelvin : {1500, 2000, 3000, 4000, 6500, 15000}) {
        const Spot at = on_page(colour::planckian_locus(kelvin));
        const Spot warmer = on_page(colour::planckian_locus(kelvin * .98));
        out += tick(labels, at, unit(at.y - warmer.y, warmer.x - at.x), 5, fmt::format("{} K", kelvin));
    }
    return out;
}

}  // namespace

svg::Spot on_page(colour::Uv uv) {
    return {plot.left + scale * uv.u, plot.bottom - scale * uv.v};
}

svg::Spot on_page(colour::Chromaticity xy) {
    return on_page(colour::to_uv(xy));
}

std::string chart(Labels& labels) {
    return axes() + spectral_locus(labels) + planckian_locus(labels);
}

}  // namespace tallow::palettes
