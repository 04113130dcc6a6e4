#include "compiler/palettes/shown.hpp"

#include "compiler/desk/pictures.hpp"
#include "compiler/track/light.hpp"
#include "runtime/engine/integers.hpp"

namespace tallow::palettes {
namespace {

using runtime::Level;

std::vector<double> exact(const std::vector<Level>& levels) {
    return {levels.begin(), levels.end()};
}

template <class Round>
std::optional<double> moved_by(const show::Type& type, const Shown& shown, Round round) {
    if (!shown.xy || shown.slot != show::none) return std::nullopt;
    std::vector<double> levels;
    for (const Level level : shown.level) levels.push_back(round(level));
    const auto light = track::light_of(type, levels);
    if (!light) return std::nullopt;
    return colour::distance_uv(light->xy, *shown.xy);
}

double on_desk(Level level, std::int64_t notch) {
    const double percents = static_cast<double>(desk::all_of_it);
    const auto wanted = static_cast<desk::Percent>(level / 65535.0 * percents + 0.5);
    return static_cast<double>(desk::nearest_setting(wanted, notch)) / percents * 65535;
}

std::optional<colour::Correlated> white(const Shown& shown, std::optional<colour::Chromaticity> target) {
    const auto near = colour::correlated_temperature(target.value_or(*shown.xy));
    if (!near || near->duv > white_duv || near->duv < -white_duv) return std::nullopt;
    return colour::correlated_temperature(*shown.xy);
}

// Of named emitters those that shine count.
bool shines_typically(const show::Type& type, const std::vector<Level>& level) {
    for (std::size_t i = 0; i < level.size(); ++i)
        if (level[i] > 0 && type.emitters[i].visible && !type.emitters[i].measured) return true;
    return false;
}

}  // namespace

Shown show_on(const Show& show, const Report& report, Index kind, const track::TypeColour& colour,
              std::optional<colour::Chromaticity> target) {
    const show::Type& type = show.types[report.kinds[kind].alike.type];
    Shown shown{kind, colour.level, colour.slot, {}, {}, {}, 0, 0, colour.kept, false, {}, {}};
    if (colour.solved && colour.distance < colour::no_light) {
        shown.xy = colour.xy;
        shown.lumens = colour.lumens;
        shown.off = colour.distance;
        shown.typical = shown.lumens > 0 && check::rests_on_typical(show, report.kinds[kind].alike);
    } else if (const auto light = track::light_of(type, exact(colour.level))) {
        shown.xy = light->xy;
        shown.lumens = light->lumens;
        shown.typical = shines_typically(type, colour.level);
    }
    if (shown.xy) shown.white = white(shown, target);
    shown.in_8_bits = moved_by(
        type, shown, [](Level l) { return static_cast<double>(runtime::widen(runtime::narrow(l))); });
    for (const Index d : report.desks)
        shown.desk.push_back(moved_by(type, shown, [&](Level l) { return on_desk(l, show.desks[d].notch); }));
    return shown;
}

}  // namespace tallow::palettes
