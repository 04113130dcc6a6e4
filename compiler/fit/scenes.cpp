#include "compiler/fit/scenes.hpp"

#include <algorithm>
#include <fmt/format.h>

#include "compiler/desk/wave_level.hpp"
#include "compiler/fit/source_marks.hpp"

namespace tallow::fit {

using runtime::none;

std::string scene_text(const show::Show& show, const Scene& scene) {
    if (scene.panic) return "the panic look";
    return scene.cue != none ? "cue " + show::cue_text(show, scene.cue)
                             : fmt::format("submaster {}", show.submasters[scene.submaster].number);
}

void Scenes::go_home() {
    for (std::uint32_t p = 0; p < at_.size(); ++p) at_[p] = {roll_.parameters.home[p], none};
}

void Scenes::put(const runtime::Run& run) {
    for (std::uint32_t i = 0; i < run.level.size(); ++i)
        at_[run.parameter + i] = {run.level[i], run.wave.empty() ? none : run.wave[i]};
}

void Scenes::play(const runtime::Cue& cue) {
    for (const runtime::Set& set : cue.sets) {
        for (const runtime::Run& run : set.runs) put(run);
        for (const runtime::Stretch& s : set.releases)
            for (std::uint32_t p = s.parameter; p < s.parameter + s.count; ++p)
                at_[p] = {roll_.parameters.home[p], none};
    }
}

bool Scenes::next_cue() {
    for (; list_ < roll_.lists.size(); ++list_, scene_.cue = none) {
        const runtime::CueList& list = roll_.lists[list_];
        if (scene_.cue == none) go_home();
        const std::uint32_t cue = scene_.cue == none ? list.first : scene_.cue + 1;
        if (cue >= list.first + list.count) continue;
        scene_.cue = cue;
        play(roll_.cues[cue]);
        return true;
    }
    return false;
}

bool Scenes::next_submaster() {
    const std::uint32_t submaster = scene_.submaster == none ? 0 : scene_.submaster + 1;
    if (submaster >= roll_.submasters.size()) return false;
    scene_.submaster = submaster;
    go_home();
    for (const runtime::Run& run : roll_.submasters[submaster].runs) put(run);
    return true;
}

bool Scenes::next() {
    if (next_cue() || next_submaster()) return true;
    if (roll_.panic.empty() || scene_.panic) return false;
    scene_.panic = true;
    go_home();
    for (const runtime::Run& run : roll_.panic) put(run);
    return true;
}

Scenes::Reach Scenes::reach(std::uint32_t parameter) const {
    const Standing& standing = at_[parameter];
    if (standing.source >= roll_.waves.size() && standing.source != none) return of_chase(parameter);
    if (standing.source != none) return of_wave(parameter);
    const double level = static_cast<double>(standing.level) / runtime::full;
    return {level, level, level};
}

Scenes::Reach Scenes::of_wave(std::uint32_t parameter) const {
    const runtime::Wave& wave = roll_.waves[at_[parameter].source];
    const std::size_t row = place_in(wave.parameter, parameter);
    const desk::WaveSpan span = desk::wave_span(roll_.parameters.kind[parameter], at_[parameter].level,
                                                wave.low[row], wave.high[row]);
    return {span.low / double{runtime::full}, span.middle / double{runtime::full},
            span.high / double{runtime::full}};
}

Scenes::Reach Scenes::of_chase(std::uint32_t parameter) const {
    const runtime::Chase& chase = roll_.chases[at_[parameter].source - roll_.waves.size()];
    const std::size_t column = place_in(chase.parameter, parameter), n = chase.parameter.size();
    Level low = chase.level[column], high = low;
    for (std::size_t at = column; at < chase.level.size(); at += n) {
        low = std::min(low, chase.level[at]);
        high = std::max(high, chase.level[at]);
    }
    return {low / double{runtime::full}, chase.level[column] / double{runtime::full},
            high / double{runtime::full}};
}

double Scenes::of(const Output& output, double Reach::*end) const {
    double level = reach(output.parameters.front()).*end;
    if (output.shines)
        for (std::size_t i = 1; i < output.parameters.size(); ++i) level *= reach(output.parameters[i]).*end;
    return level;
}

}  // namespace tallow::fit
