#include "compiler/desk/strip.hpp"

#include "compiler/track/tracker.hpp"
#include "runtime/cue_number.hpp"

namespace tallow::desk {

emit::Sheet strip_sheet(const show::Layout& layout, const Pictures& pictures) {
    emit::Strip strip{"faders", {}, layout.rows};
    emit::Table table{"strip", {{"fader", true}, {"row", true}, {"label"}}, {}, false};
    const std::uint32_t row = (layout.channels + layout.rows - 1) / layout.rows;
    for (std::uint32_t n = 1; n <= layout.channels; ++n) strip.labels.push_back({std::to_string(n), ""});
    for (const Channel& c : pictures.channels)
        if (c.number <= layout.channels) strip.labels[c.number - 1u].words = c.name + (c.fine ? " fine" : "");
    for (std::uint32_t n = 0; n < layout.channels; ++n)
        table.rows.push_back({strip.labels[n].number, std::to_string(n / row + 1), strip.labels[n].words});
    return {
        "strip",
        "Fader labels to cut out",
        {"One label for each fader, in the rows and the order of the desk. Print at 100 %, measure the check "
         "rule, then cut along the outer lines."},
        {},
        {std::move(table)},
        {std::move(strip)}};
}

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
