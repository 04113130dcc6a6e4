#include "compiler/lower/hands.hpp"

#include <algorithm>
#include <map>

#include "compiler/lower/runs.hpp"
#include "compiler/track/targets.hpp"

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

void add_keeps(const show::Show& show, runtime::Roll& roll) {
    std::map<Index, runtime::Level> least;
    track::Targets targets(show);
    for (const show::Keep& keep : show.safety.keeps)
        for (const track::Steps& steps : targets.intensities(keep.selection))
            for (Index i = 0; i < steps.count; ++i) {
                runtime::Level& level = least[steps.at(i)];
                level = std::max(level, keep.level);
            }
    for (const auto& [parameter, level] : least) {
        if (roll.keeps.empty() || roll.keeps.back().parameter + roll.keeps.back().level.size() != parameter)
            roll.keeps.push_back({parameter, {}, {}});
        roll.keeps.back().level.push_back(level);
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
