// The innermost steps of the tracker, which the rest of it calls for millions of parameters.
#pragma once

#include "compiler/track/tracker.hpp"

namespace tallow::track {

inline void Tracker::count_colour(Index p, Index before, Index after) {
    if ((before == show::none) == (after == show::none) || !parameters_[p].wants_colour) return;
    auto& count = uncoloured_[show_.parameters[p].fixture];
    count = after == show::none ? count + 1 : count - 1;
    all_uncoloured_ = after == show::none ? all_uncoloured_ + 1 : all_uncoloured_ - 1;
}

// Notes that the cue changes a parameter, with the present line's timing.
inline void Tracker::note(Index p, bool jumps) {
    Parameter& parameter = parameters_[p];
    const std::uint32_t timing = first_timing_ + static_cast<std::uint32_t>(parameter.kind);
    if (parameter.changed_in == index_) {
        Change& change = changes_[parameter.change];
        change.timing = timing;
        change.statement = statement_;
        change.jumps = change.jumps || jumps;
        return;
    }
    parameter.changed_in = index_;
    parameter.change = change_count_;
    changes_[change_count_++] = {p, timing, statement_, parameter.kind, jumps};
}

inline void Tracker::set(Index p, Level level, Index wave, bool jumps) {
    Parameter& parameter = parameters_[p];
    if (cue_only_ || keeps_origins_) remember(p);
    note(p, jumps || parameter.jumps);
    if (parameter.statement == show::none || statement_ == show::none)
        count_colour(p, parameter.statement, statement_);
    const bool stated = statement_ != show::none;
    static_cast<Standing&>(parameter) = {
        level, jumps, stated, parameter.kind, wave, statement_, stated ? index_ : show::none};
}

}  // namespace tallow::track
