#include "compiler/lower/cues.hpp"

#include <algorithm>
#include <map>

#include "compiler/lower/runs.hpp"

namespace tallow::lower {
namespace {

using runtime::Timing;
using track::Change;
using track::Tracker;

// Changes of one timing stand together, in parameter order; a value that jumps takes the delay alone.
std::vector<runtime::Set> sets(const Tracker& tracker, const Sources& sources) {
    struct Together {
        std::vector<Index> stated, released;
    };
    std::map<Timing, Together> by_timing;
    for (const Change& change : tracker.changes()) {
        Timing timing = tracker.timings()[change.timing];
        if (change.jumps) timing = {timing.delay, 0, 0, runtime::Curve::linear};
        Together& set = by_timing[timing];
        (tracker.stands_for(change.parameter) ? set.stated : set.released).push_back(change.parameter);
    }
    std::vector<runtime::Set> out;
    for (auto& [timing, set] : by_timing) {
        std::sort(set.stated.begin(), set.stated.end());
        std::sort(set.released.begin(), set.released.end());
        out.push_back({timing, runs(set.stated, tracker, sources), stretches(set.released)});
    }
    return out;
}

runtime::Cue cue_of(const show::Show& show, const Tracker& tracker, const Sources& sources) {
    const show::Cue& cue = tracker.cue();
    runtime::Cue out;
    out.number = cue.number;
    out.label = cue.label;
    out.on = cue.on;
    out.note = cue.note;
    out.page = cue.page;
    out.next = cue.next;
    out.next_ms = cue.next_ms;
    out.complete_ms = track::complete_time(show, cue);
    out.timecode = cue.timecode;
    const std::vector<Timing>& timings = tracker.timings();
    out.intensity = timings[0];
    out.colour = timings[1];
    out.position = timings[2];
    out.beam = timings[3];
    for (const Index instance : tracker.starts())
        for (const std::uint32_t number : sources.all_of(instance)) out.starts.push_back(number);
    out.sets = sets(tracker, sources);
    return out;
}

runtime::Picture picture(const show::Show& show, const Tracker& tracker, const Sources& sources) {
    runtime::Picture out;
    out.cue = tracker.index();
    std::vector<Index> stated;
    for (Index p = 0; p < show.parameters.size(); ++p) {
        if (!tracker.stands_for(p)) continue;
        stated.push_back(p);
        out.level.push_back(tracker.at(p).level);
        out.wave.push_back(sources.of(tracker.at(p).wave, p));
    }
    out.stated = stretches(stated);
    return out;
}

}  // namespace

void add_list(const show::Show& show, track::Book& book, Index list, Sources& sources, runtime::Roll& roll) {
    Tracker tracker(show, book, list);
    const show::CueList& from = show.lists[list];
    const auto first = static_cast<std::uint32_t>(roll.cues.size());
    sources.begin();
    while (tracker.next()) {
        sources.add(tracker.waves());
        roll.cues.push_back(cue_of(show, tracker, sources));
        if ((roll.cues.size() - first) % runtime::picture_every == 0)
            roll.pictures.push_back(picture(show, tracker, sources));
    }
    roll.lists.push_back({from.name, first, from.count});
}

}  // namespace tallow::lower
