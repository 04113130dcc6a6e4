#include "compiler/desk/dark.hpp"

#include <algorithm>
#include <map>

namespace tallow::desk {

Masters masters_of(const show::Show& show, const Pictures& pictures, std::size_t width) {
    const auto channel_of = channels_by_parameter(pictures, width);
    Masters masters(width);
    for (std::size_t c = 0; c < width; ++c)
        for (Index above = show.above(pictures.channels[c].parameter); above != show::none;
             above = show.above(above))
            if (const auto at = channel_of.find(above); at != channel_of.end())
                masters[c].push_back(at->second);
    return masters;
}

bool is_down(const Picture& picture, const std::vector<std::size_t>& masters) {
    return std::any_of(masters.begin(), masters.end(),
                       [&](std::size_t m) { return picture.set[m] == 0 && picture.chase[m] == 0; });
}

bool is_dark(const Picture& picture, const std::vector<std::size_t>& masters) {
    return std::any_of(masters.begin(), masters.end(), [&](std::size_t m) {
        return picture.wanted[m] == 0 && picture.swing[m] == 0 && picture.chase[m] == 0;
    });
}

bool lights(const Picture& picture, const Masters& masters, std::size_t c) {
    return (picture.set[c] > 0 || picture.swing[c] > 0) && !is_dark(picture, masters[c]);
}

Needed needed_settings(const Pictures& pictures, const Masters& masters) {
    const std::size_t cues = pictures.cues.size(), width = masters.size();
    Needed needed{Levels(cues, width), Levels(cues, width)};
    for (std::size_t c = 0; c < width; ++c) {
        // Before the first cue all is down, and after the last one nothing comes up.
        const auto down = [&](std::size_t cue) {
            return !masters[c].empty() && is_down(pictures.cues[cue], masters[c]);
        };
        for (std::size_t cue = 0; cue < cues; ++cue) {
            const bool shows = !down(cue) || (cue > 0 && !down(cue - 1));
            const bool comes_up = cue + 1 < cues && !down(cue + 1);
            const Percent must = shows ? pictures.cues[cue].set[c] : any_setting;
            needed.must.at(cue, c) = must;
            needed.best.at(cue, c) = !shows && comes_up ? pictures.cues[cue + 1].set[c] : must;
        }
    }
    return needed;
}

}  // namespace tallow::desk
