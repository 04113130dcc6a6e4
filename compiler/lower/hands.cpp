#include "compiler/lower/hands.hpp"

#include <algorithm>

#include "compiler/lower/runs.hpp"

namespace tallow::lower {

void add_submasters(const show::Show& show, track::Book& book, Sources& sources, runtime::Roll& roll) {
    for (const show::Submaster& submaster : show.submasters) {
        const std::vector<show::Cue> alone{track::cue_of(submaster.items)};
        track::Tracker tracker(show, book, alone);
        tracker.next();
        sources.begin();
        sources.add(tracker.waves());
        std::vector<Index> stated, jumping;
        for (const track::Change& change : tracker.changes()) {
            stated.push_back(change.parameter);
            if (change.jumps) jumping.push_back(change.parameter);
        }
        std::sort(stated.begin(), stated.end());
        std::sort(jumping.begin(), jumping.end());
        runtime::Submaster out;
        out.number = submaster.number;
        out.label = submaster.label;
        for (const Index instance : tracker.starts())
            for (const std::uint32_t number : sources.all_of(instance)) out.starts.push_back(number);
        out.runs = runs(stated, tracker, sources);
        out.jumps = stretches(jumping);
        roll.submasters.push_back(std::move(out));
    }
}

void add_keeps(const track::Floors& floors, runtime::Roll& roll) {
    if (!floors.any()) return;
    for (Index p = 0; p < roll.parameters.size(); ++p) {
        if (floors.of(p) == 0) continue;
        if (roll.keeps.empty() || roll.keeps.back().parameter + roll.keeps.back().level.size() != p)
            roll.keeps.push_back({p, {}, {}});
        roll.keeps.back().level.push_back(floors.of(p));
    }
}

void add_panic(const show::Show& show, track::Book& book, const Sources& sources, runtime::Roll& roll) {
    if (!show.safety.panic) return;
    const std::vector<show::Cue> alone{track::cue_of({*show.safety.panic})};
    track::Tracker tracker(show, book, alone);
    tracker.next();
    std::vector<Index> stated;
    for (const track::Change& change : tracker.changes()) stated.push_back(change.parameter);
    std::sort(stated.begin(), stated.end());
    roll.panic = runs(stated, tracker, sources);
}

}  // namespace tallow::lower
