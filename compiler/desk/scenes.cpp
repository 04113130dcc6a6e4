#include "compiler/desk/scenes.hpp"

#include <algorithm>
#include <fmt/format.h>

#include "compiler/desk/source_marks.hpp"

namespace tallow::desk {

using runtime::Kind;
using runtime::none;

std::string scene_text(const show::Show& show, const Scene& scene) {
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

bool Scenes::next() {
    if (next_cue()) return true;
    const std::uint32_t submaster = scene_.submaster == none ? 0 : scene_.submaster + 1;
    if (submaster >= roll_.submasters.size()) return false;
    scene_.submaster = submaster;
    go_home();
    for (const runtime::Run& run : roll_.submasters[submaster].runs) put(run);
    return true;
}

double Scenes::value(std::uint32_t parameter) const {
    const Standing& standing = at_[parameter];
    const double own = standing.level;
    if (standing.source == none) return own / runtime::full;
    if (standing.source >= roll_.waves.size()) {
        const runtime::Chase& chase = roll_.chases[standing.source - roll_.waves.size()];
        return static_cast<double>(chase.level[place_in(chase.parameter, parameter)]) / runtime::full;
    }
    const runtime::Wave& wave = roll_.waves[standing.source];
    const std::size_t row = place_in(wave.parameter, parameter);
    const double middle = (static_cast<double>(wave.low[row]) + wave.high[row]) / 2;
    switch (roll_.parameters.kind[parameter]) {
        case Kind::intensity:
            return own / runtime::full * middle / runtime::full;
        case Kind::position:
            return std::clamp((own + middle) / runtime::full, 0., 1.);
        default:
            return middle / runtime::full;
    }
}

double Scenes::level(const Output& output) const {
    double level = value(output.parameters.front());
    if (output.shines)
        for (std::size_t i = 1; i < output.parameters.size(); ++i) level *= value(output.parameters[i]);
    return level;
}

}  // namespace tallow::desk
