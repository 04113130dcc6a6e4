#include "compiler/desk/presets.hpp"

#include <algorithm>

namespace tallow::desk {
namespace {

// From `from` milliseconds after the GO of cue `first` to the start of cue `last`.
std::optional<std::uint64_t> room(const show::Show& show, Index first, Index last, std::uint64_t from) {
    std::uint64_t sum = 0;
    for (Index cue = first; cue < last; ++cue) {
        const auto step = until_next(show, cue);
        if (!step) return std::nullopt;
        sum += *step;
    }
    return sum > from ? sum - from : 0;
}

Preset set_faders(Index cue, std::uint8_t scene, const std::vector<Percent>& set, std::vector<Percent>& held,
                  std::uint64_t reach) {
    Preset p;
    p.cue = cue;
    p.scene = scene;
    p.set = set;
    for (std::size_t i = 0; i < set.size(); ++i) p.moves.push_back(set[i] != held[i]);
    p.move_count = static_cast<std::uint32_t>(std::count(p.moves.begin(), p.moves.end(), true));
    p.work = p.move_count * reach;
    held = set;
    return p;
}

}  // namespace

std::optional<std::uint64_t> until_next(const show::Show& show, Index cue) {
    const show::Cue& c = show.cues[cue];
    if (c.next == runtime::Next::go || cue + 1 == show.lists[0].count) return std::nullopt;
    return c.next_ms + (c.next == runtime::Next::follow ? track::complete_time(show, c) : 0);
}

std::uint64_t crossfade_end(const show::Cue& cue) {
    return cue.times.delay + std::max(cue.times.up, cue.times.down);
}

std::vector<Preset> make_presets(const show::Show& show, const show::Desk& desk, const show::Layout& layout,
                                 const Pictures& pictures, const Looks& looks) {
    std::vector<Preset> presets;
    const std::size_t scenes = std::min(layout.scenes, 2u);
    if (scenes == 0) return presets;
    std::vector<std::vector<Percent>> held(scenes, std::vector<Percent>(looks.width, 0));
    Index before = show::none;  // the cue that brought the picture that is up
    Index look_before = show::none;
    std::size_t scene = scenes - 1;
    for (Index cue = 0; cue < show.lists[0].count; ++cue) {
        std::vector<Percent> set = pictures.cues[cue].set;
        set.resize(looks.width);
        if (looks.of_cue[cue] == look_before) {
            presets.push_back({cue, std::nullopt, set, std::vector<bool>(set.size()), 0, 0, std::nullopt});
            continue;
        }
        scene = (scene + 1) % scenes;
        Preset p = set_faders(cue, static_cast<std::uint8_t>(scene), set, held[scene], desk.reach);
        if (scenes == 1)
            p.room = until_next(show, cue);
        else if (before != show::none)
            p.room = room(show, before, cue, crossfade_end(show.cues[before]));
        presets.push_back(std::move(p));
        before = cue;
        look_before = looks.of_cue[cue];
    }
    return presets;
}

}  // namespace tallow::desk
