#include "runtime/engine/picture.hpp"

#include <algorithm>

namespace tallow::runtime {
namespace {

void apply(const Run& run, Tracked& out) {
    std::fill_n(out.stands.begin() + run.parameter, run.level.size(), std::uint8_t{1});
    std::copy(run.level.begin(), run.level.end(), out.level.begin() + run.parameter);
    const auto wave = out.wave.begin() + run.parameter;
    if (run.wave.empty())
        std::fill_n(wave, run.level.size(), none);
    else
        std::copy(run.wave.begin(), run.wave.end(), wave);
}

void release(const Stretch& stretch, const Roll& roll, Tracked& out) {
    std::fill_n(out.stands.begin() + stretch.parameter, stretch.count, std::uint8_t{0});
    std::copy_n(roll.parameters.home.begin() + stretch.parameter, stretch.count,
                out.level.begin() + stretch.parameter);
    std::fill_n(out.wave.begin() + stretch.parameter, stretch.count, none);
}

void unpack(const Picture& picture, Tracked& out) {
    std::size_t at = 0;
    for (const Stretch& s : picture.stated) {
        const auto from = static_cast<std::ptrdiff_t>(at);
        std::fill_n(out.stands.begin() + s.parameter, s.count, std::uint8_t{1});
        std::copy_n(picture.level.begin() + from, s.count, out.level.begin() + s.parameter);
        std::copy_n(picture.wave.begin() + from, s.count, out.wave.begin() + s.parameter);
        at += s.count;
    }
}

// The picture kept for the cue or for the nearest one before it in its list, or null. Sets `first` to the
// list's first cue.
const Picture* nearest(const Roll& roll, std::uint32_t cue, std::uint32_t& first) {
    std::size_t pictures = 0;
    for (const CueList& list : roll.lists) {
        if (cue - list.first < list.count) {
            first = list.first;
            const std::size_t kept = (cue - first + 1) / picture_every;
            return kept > 0 && pictures + kept <= roll.pictures.size() ? &roll.pictures[pictures + kept - 1]
                                                                       : nullptr;
        }
        pictures += list.count / picture_every;
    }
    return nullptr;
}

}  // namespace

void fold_picture(const Roll& roll, std::uint32_t cue, Tracked& out) {
    out.stands.assign(roll.parameters.size(), 0);
    out.level = roll.parameters.home;
    out.wave.assign(roll.parameters.size(), none);
    std::uint32_t from = 0;  // the first cue that is yet to be applied
    if (const Picture* kept = nearest(roll, cue, from)) {
        unpack(*kept, out);
        from = kept->cue + 1;
    }
    for (std::uint32_t i = from; i <= cue; ++i)
        for (const Set& set : roll.cues[i].sets) {
            for (const Run& run : set.runs) apply(run, out);
            for (const Stretch& stretch : set.releases) release(stretch, roll, out);
        }
}

Picture pack_picture(std::uint32_t cue, const Tracked& tracked) {
    Picture picture;
    picture.cue = cue;
    for (std::uint32_t p = 0; p < tracked.stands.size(); ++p) {
        if (tracked.stands[p] == 0) continue;
        auto& stated = picture.stated;
        if (!stated.empty() && stated.back().parameter + stated.back().count == p)
            ++stated.back().count;
        else
            stated.push_back({p, 1});
        picture.level.push_back(tracked.level[p]);
        picture.wave.push_back(tracked.wave[p]);
    }
    return picture;
}

}  // namespace tallow::runtime
