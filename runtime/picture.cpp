#include "runtime/picture.hpp"

#include <algorithm>

namespace tallow::runtime {
namespace {

void apply(const Run& run, Picture& out) {
    std::copy(run.level.begin(), run.level.end(), out.level.begin() + run.parameter);
    const auto wave = out.wave.begin() + run.parameter;
    if (run.wave.empty())
        std::fill_n(wave, run.level.size(), none);
    else
        std::copy(run.wave.begin(), run.wave.end(), wave);
}

}  // namespace

void fold_picture(const Roll& roll, std::uint32_t cue, Picture& out) {
    const std::size_t kept = std::min<std::size_t>((cue + 1) / picture_every, roll.pictures.size());
    std::uint32_t from = 0;  // the first cue that is yet to be applied
    if (kept > 0) {
        out.level = roll.pictures[kept - 1].level;
        out.wave = roll.pictures[kept - 1].wave;
        from = roll.pictures[kept - 1].cue + 1;
    } else {
        out.level = roll.parameters.home;
        out.wave.assign(roll.parameters.size(), none);
    }
    out.cue = cue;
    for (std::uint32_t i = from; i <= cue; ++i)
        for (const Set& set : roll.cues[i].sets)
            for (const Run& run : set.runs) apply(run, out);
}

}  // namespace tallow::runtime
