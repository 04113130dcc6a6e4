#include "compiler/desk/given.hpp"

#include <algorithm>

namespace tallow::desk {

Given given_by(const std::vector<Preset>& presets) {
    Given given;
    given.reserve(presets.size());
    for (const Preset& p : presets) given.push_back(p.set);
    return given;
}

Given given_by(const Recordings& recordings, std::size_t width) {
    Given given;
    std::vector<Percent> position(recordings.recordings.size(), 0);
    for (const RunStep& step : recordings.run) {
        for (const SubmasterMove& move : step.moves) position[move.recording] = move.to;
        std::vector<Percent>& cue = given.emplace_back(width, 0);
        for (std::size_t r = 0; r < position.size(); ++r)
            for (std::size_t c = 0; c < width; ++c)
                cue[c] = std::max(cue[c], position[r] * recordings.recordings[r].set[c] / all_of_it);
    }
    return given;
}

}  // namespace tallow::desk
