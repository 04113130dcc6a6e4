#include "compiler/track/spread.hpp"

namespace tallow::track {

bool has_spread_times(const show::Statement& line) {
    return (line.fade && line.fade->spread()) || (line.delay && line.delay->spread());
}

bool is_spread(const show::Show& show, const show::Statement& line) {
    for (show::Index i = 0; i < line.setting_count; ++i)
        if (show.settings[line.first_setting + i].to != show::none) return true;
    return has_spread_times(line);
}

show::Times times_of(const show::Times& header, const show::Statement& line, Share share) {
    show::Times t = header;
    if (line.fade) t.up = t.down = t.colour = t.move = t.beam = share.between(line.fade->from, line.fade->to);
    if (line.delay) t.delay = share.between(line.delay->from, line.delay->to);
    return t;
}

}  // namespace tallow::track
