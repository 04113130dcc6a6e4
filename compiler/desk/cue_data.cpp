#include "compiler/desk/cue_data.hpp"

#include "compiler/track/tracker.hpp"
#include "runtime/cue_number.hpp"

namespace tallow::desk {

std::vector<emit::CueData> cue_data(const show::Show& show, const Pictures& pictures, std::size_t width) {
    std::vector<emit::CueData> all;
    for (Index i = 0; i < pictures.cues.size(); ++i) {
        const show::Cue& cue = show.cues[i];
        emit::CueData data{runtime::cue_number(cue.number),
                           cue.label,
                           cue.times.up,
                           cue.times.down,
                           cue.times.delay,
                           {},
                           {}};
        if (cue.next != runtime::Next::go && show::next_cue(show, i) != show::none)
            data.next =
                cue.next_ms + (cue.next == runtime::Next::follow ? track::complete_time(show, cue) : 0);
        for (std::size_t c = 0; c < width; ++c)
            if (!pictures.channels[c].fine)
                data.levels.emplace_back(pictures.channels[c].number, pictures.cues[i].set[c]);
        all.push_back(std::move(data));
    }
    return all;
}

}  // namespace tallow::desk
