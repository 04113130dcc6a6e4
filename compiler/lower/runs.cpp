#include "compiler/lower/runs.hpp"

#include <algorithm>

namespace tallow::lower {

std::vector<runtime::Stretch> stretches(const std::vector<Index>& parameters) {
    std::vector<runtime::Stretch> out;
    for (const Index p : parameters) {
        if (out.empty() || out.back().parameter + out.back().count != p) out.push_back({p, 0});
        ++out.back().count;
    }
    return out;
}

std::vector<runtime::Run> runs(const std::vector<Index>& parameters, const track::Tracker& tracker,
                               const Sources& sources) {
    std::vector<runtime::Run> out;
    for (const runtime::Stretch& stretch : stretches(parameters)) {
        runtime::Run run{stretch.parameter, {}, {}};
        for (Index p = stretch.parameter; p < stretch.parameter + stretch.count; ++p) {
            run.level.push_back(tracker.at(p).level);
            run.wave.push_back(sources.of(tracker.at(p).wave, p));
        }
        if (std::all_of(run.wave.begin(), run.wave.end(), [](auto w) { return w == runtime::none; }))
            run.wave.clear();
        out.push_back(std::move(run));
    }
    return out;
}

}  // namespace tallow::lower
