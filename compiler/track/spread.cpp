#include "compiler/track/spread.hpp"

#include "runtime/engine/wide.hpp"

namespace tallow::track {

using runtime::UnsignedWide;
using show::Level;
using show::Scale;
using show::whole_scale;

Level Share::scaled(Level a, Level b, Scale scale) const {
    const auto parts = static_cast<UnsignedWide>(last == 0 ? 1 : last);
    const auto at = static_cast<UnsignedWide>(place);
    const UnsignedWide sum =
        UnsignedWide{a} * (last == 0 ? 1 : parts - at) + UnsignedWide{b} * (last == 0 ? 0 : at);
    const UnsignedWide whole = parts * whole_scale;
    return static_cast<Level>((2 * sum * scale + whole) / (2 * whole));
}

Scale product(Scale a, Scale b) {
    return static_cast<Scale>((UnsignedWide{a} * b + whole_scale / 2) / whole_scale);
}

bool is_spread(const show::Show& show, const show::Statement& line) {
    for (show::Index i = 0; i < line.setting_count; ++i)
        if (show.settings[line.first_setting + i].to != show::none) return true;
    return line.has_spread_times();
}

show::Times times_of(const show::Times& header, const show::Statement& line, Share share) {
    show::Times t = header;
    if (line.fade) t.up = t.down = t.colour = t.move = t.beam = share.between(line.fade->from, line.fade->to);
    if (line.delay) t.delay = share.between(line.delay->from, line.delay->to);
    return t;
}

}  // namespace tallow::track
