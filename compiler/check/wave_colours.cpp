#include "compiler/check/wave_colours.hpp"

#include <algorithm>
#include <cmath>
#include <vector>

#include "compiler/colour/srgb.hpp"

namespace tallow::check {
namespace {

constexpr double of_million = 1e-6, whole_swing = 1e8;
constexpr std::int64_t sector = 60;  // degrees between pure hues

void ask(const Show& show, const track::WaveInstance& instance, const track::WaveRow& row, track::Book& book,
         std::set<HueTurn>& hues) {
    const show::WaveUse& use = show.wave_uses[instance.use];
    const show::Component& c = show.waves[use.wave].components[row.component];
    if (c.kind != show::Kind::colour || c.attribute != show::none) return;
    const show::Element element{show.parameters[row.parameter].fixture, show.definition(row.parameter).cell};
    if (!c.hue) {
        book.colours.on(element, show.settings[c.low_colour]);
        book.colours.on(element, show.settings[c.high_colour]);
        return;
    }
    const show::Fixture& fixture = show.fixtures[element.fixture];
    hues.insert({use.wave, row.component, {fixture.type, fixture.balance}, use.shape.swing});
}

}  // namespace

void ask_for_wave_colours(const Show& show, const track::Tracker& tracker, track::Book& book,
                          std::set<HueTurn>& hues) {
    for (const track::WaveInstance& instance : tracker.waves())
        for (const track::WaveRow& row : instance.rows)
            if (row.component != show::none) ask(show, instance, row, book, hues);
}

// From one pure hue to the next the colour goes straight, and the distance from what emitters can mix is
// convex: it is the largest at an end, or at a multiple of 60°.
Miss worst_miss(const Show& show, const track::Colours& colours, const HueTurn& turn) {
    const show::Wave& wave = show.waves[turn.wave];
    const show::Component& c = wave.components[turn.component];
    const double low = static_cast<double>(c.low.measure) * of_million,
                 high = static_cast<double>(c.high.measure) * of_million,
                 reach = (high - low) / 2 * static_cast<double>(turn.swing) / whole_swing,
                 saturation = static_cast<double>(c.saturation) / whole_swing;
    const auto [from, to] = std::minmax({(low + high) / 2 - reach, (low + high) / 2 + reach});
    std::vector<double> hues{from, to};
    if (wave.shape.shape != show::Shape::square)  // which shows its ends alone
        for (auto n = static_cast<std::int64_t>(std::ceil(from / double{sector}));
             static_cast<double>(n * sector) < to; ++n)
            hues.push_back(static_cast<double>(n * sector));
    Miss worst;
    for (const double degrees : hues) {
        const double distance = colours.solve(turn.fixtures, colour::from_hue(degrees, saturation)).distance;
        if (distance > worst.distance) worst = {distance, degrees};
    }
    return worst;
}

}  // namespace tallow::check
