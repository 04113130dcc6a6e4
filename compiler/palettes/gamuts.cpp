#include "compiler/palettes/gamuts.hpp"

#include <algorithm>
#include <array>
#include <fmt/format.h>

#include "compiler/colour/srgb.hpp"
#include "compiler/palettes/chart.hpp"

namespace tallow::palettes {
namespace {

using svg::Spot;

double turn(Spot a, Spot b, Spot c) {
    return (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
}

// The convex hull, by Andrew's monotone chain (1979; from memory, not re-read).
std::vector<Spot> hull(std::vector<Spot> spots) {
    const auto before = [](Spot a, Spot b) { return a.x < b.x || (a.x == b.x && a.y < b.y); };
    std::sort(spots.begin(), spots.end(), before);
    if (spots.size() < 3) return spots;
    std::vector<Spot> chain;
    const auto add = [&](Spot s, std::size_t least) {
        while (chain.size() >= least + 2 && turn(chain[chain.size() - 2], chain.back(), s) <= 0)
            chain.pop_back();
        chain.push_back(s);
    };
    for (const Spot s : spots) add(s, 0);
    const std::size_t below = chain.size() - 1;
    for (std::size_t i = spots.size() - 1; i-- > 0;) add(spots[i], below);
    chain.pop_back();
    return chain;
}

// Around the visible emitters, or the sRGB primaries for filters; empty for a wheel.
std::vector<Spot> outline(const Show& show, Index type) {
    const show::Type& t = show.types[type];
    std::vector<Spot> spots;
    if (t.filtered())
        for (const colour::LinearRgb primary : {colour::LinearRgb{1, 0, 0}, {0, 1, 0}, {0, 0, 1}})
            spots.push_back(on_page(colour::chromaticity_of(primary)));
    else
        for (const show::Emitter& e : t.emitters)
            if (e.visible) spots.push_back(on_page(e.light.xy));
    return hull(std::move(spots));
}

}  // namespace

std::string letter_of(std::size_t type) {
    const std::string letter(1, static_cast<char>('A' + type % 26));
    return type < 26 ? letter : fmt::format("{}{}", letter, type / 26 + 1);
}

std::vector<Index> types_of(const Report& report) {
    std::vector<Index> types;
    for (const Kind& kind : report.kinds)
        if (std::find(types.begin(), types.end(), kind.alike.type) == types.end())
            types.push_back(kind.alike.type);
    return types;
}

std::string line_style(std::size_t type) {
    static constexpr std::array<std::string_view, 8> dashes{"none", "9 4", "2 3",          "9 3 2 3",
                                                            "16 5", "5 2", "14 3 2 3 2 3", "1 5"};
    return fmt::format("fill=\"none\" stroke=\"{}\" stroke-width=\"1.4\" stroke-dasharray=\"{}\"",
                       type / dashes.size() % 2 == 0 ? "#222" : "#777", dashes[type % dashes.size()]);
}

std::vector<Gamut> gamuts_of(const Show& show, const std::vector<Index>& types) {
    std::vector<Gamut> all;
    for (std::size_t i = 0; i < types.size(); ++i) {
        std::vector<Spot> corners = outline(show, types[i]);
        if (corners.empty()) continue;
        const auto same = [&](const Gamut& g) {
            return std::equal(g.corners.begin(), g.corners.end(), corners.begin(), corners.end(),
                              [](Spot a, Spot b) { return a.x == b.x && a.y == b.y; });
        };
        const auto known = std::find_if(all.begin(), all.end(), same);
        if (known == all.end())
            all.push_back({std::move(corners), {i}});
        else
            known->types.push_back(i);
    }
    return all;
}

// The letters stand at the first corner that has room for them.
std::string draw(const std::vector<Gamut>& gamuts, Labels& labels) {
    std::string out;
    for (const auto& [corners, types] : gamuts) {
        out += svg::path(corners, true, line_style(types.front()));
        std::string letters;
        for (const std::size_t type : types)
            letters += fmt::format("{}{}", letters.empty() ? "" : " ", letter_of(type));
        for (std::size_t c = 0; c < corners.size(); ++c) {
            const Spot corner = corners[(types.front() + c) % corners.size()];  // not all at one corner
            const auto at = labels.place(corner, letters, 14);
            if (!at) continue;
            out += name_at(*at, letters, 14, "font-weight=\"bold\" ");
            break;
        }
    }
    return out;
}

}  // namespace tallow::palettes
