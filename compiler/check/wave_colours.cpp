#include "compiler/check/wave_colours.hpp"

#include <algorithm>

#include "compiler/colour/srgb.hpp"

namespace tallow::check {
namespace {

constexpr double of_million = 1e-6, whole_swing = 1e8;

void ask(const Show& show, const track::WaveInstance& instance, const track::WaveRow& row, track::Book& book,
         std::vector<HueTurn>& hues) {
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
    const HueTurn turn{{fixture.type, fixture.balance}, use.wave, row.component, use.shape.swing};
    if (std::find(hues.begin(), hues.end(), turn) == hues.end()) hues.push_back(turn);
}

}  // namespace

void ask_for_wave_colours(const Show& show, const track::Tracker& tracker, track::Book& book,
                          std::vector<HueTurn>& hues) {
    for (const track::WaveInstance& instance : tracker.waves())
        for (const track::WaveRow& row : instance.rows)
            if (row.component != show::none) ask(show, instance, row, book, hues);
}

Miss worst_miss(const Show& show, const track::Colours& colours, const HueTurn& turn) {
    const show::Component& c = show.waves[turn.wave].components[turn.component];
    const double low = static_cast<double>(c.low.measure) * of_million,
                 high = static_cast<double>(c.high.measure) * of_million,
                 reach = (high - low) / 2 * static_cast<double>(turn.swing) / whole_swing,
                 saturation = static_cast<double>(c.saturation) / whole_swing;
    const double from = (low + high) / 2 - reach, way = 2 * reach;
    const int steps = std::max(1, static_cast<int>(std::min(way < 0 ? -way : way, 360.0)));
    Miss worst;
    for (int i = 0; i <= steps; ++i) {
        const double degrees = from + way * i / steps;
        const double distance = colours.solve(turn.fixtures, colour::from_hue(degrees, saturation)).distance;
        if (distance > worst.distance) worst = {distance, degrees};
    }
    return worst;
}

}  // namespace tallow::check
