#include "compiler/desk/presets.hpp"

#include <algorithm>

#include "compiler/desk/dark.hpp"

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

// Where the faders of a scene come to stand, and which of them move.
Preset set_faders(Index cue, const Levels& needed, const std::vector<Percent>& held, std::uint64_t reach) {
    Preset p;
    p.cue = cue;
    p.set = held;
    for (std::size_t c = 0; c < held.size(); ++c) {
        const Percent need = needed.at(cue, c);
        if (need != any_setting) p.set[c] = need;
        p.moves.push_back(p.set[c] != held[c]);
    }
    p.move_count = static_cast<std::uint32_t>(std::count(p.moves.begin(), p.moves.end(), true));
    p.work = p.move_count * reach;
    return p;
}

// Of light that is up on both scenes.
void find_dips(Preset& p, const std::vector<Percent>& from, const Masters& masters, Percent notch) {
    for (std::size_t c = 0; c < from.size(); ++c) {
        const Percent a = from[c], b = p.set[c];
        const bool stays = a > 0 && b > 0 &&
                           std::all_of(masters[c].begin(), masters[c].end(),
                                       [&](std::size_t m) { return from[m] > 0 && p.set[m] > 0; });
        if (!stays) continue;
        const Percent dip = std::min(a, b) - a * b / (a + b);
        p.dip = std::max(p.dip, dip);
        if (dip > notch) p.dips.push_back(c);
    }
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
    const Masters masters = masters_of(show, pictures, looks.width);
    const Needed needed = needed_settings(pictures, masters);
    std::vector<std::vector<Percent>> held(scenes, std::vector<Percent>(looks.width, 0));
    std::size_t up = 0;         // the scene that is up; at first with all faders down
    Index before = show::none;  // the cue that brought it
    for (Index cue = 0; cue < show.lists[0].count; ++cue) {
        Preset p = set_faders(cue, needed.must, held[up], desk.reach);
        if (p.move_count > 0) {
            const std::size_t next = before == show::none ? 0 : (up + 1) % scenes;
            p = set_faders(cue, needed.best, held[next], desk.reach);
            p.scene = static_cast<std::uint8_t>(next);
            if (scenes == 1)
                p.room = until_next(show, cue);
            else if (before != show::none) {
                p.room = room(show, before, cue, crossfade_end(show.cues[before]));
                find_dips(p, held[up], masters, desk.notch);
            }
            held[next] = p.set;
            up = next;
            before = cue;
        }
        presets.push_back(std::move(p));
    }
    return presets;
}

}  // namespace tallow::desk
