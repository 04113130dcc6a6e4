// A show on submasters: what is recorded into each, and which hands move where at each cue.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "compiler/desk/looks.hpp"
#include "compiler/desk/submasters/paging.hpp"
#include "compiler/desk/submasters/plan.hpp"

namespace tallow::desk {

struct Recording {
    submasters::Place place;
    std::vector<Percent> set;  // of each channel that the layout gives
    std::vector<Index> cues;   // that raise it; the first brings it
};

struct SubmasterMove {
    std::size_t recording;
    Percent from, to;
};

struct RunStep {
    Index cue;
    std::vector<SubmasterMove> moves;   // those that rise, then those that fall
    std::uint64_t work = 0;             // milliseconds that the moves take: moves × reach
    std::optional<std::uint64_t> room;  // milliseconds until the next cue, where the show fixes it
    std::vector<std::uint32_t> pages;   // of what is up
    bool clash = false;                 // a submaster would have to be up on two pages at once
    bool taken_over = false;            // one falls on a page and rises on another: it goes down first
    Percent error = 0;                  // the largest of a channel
    std::vector<std::uint32_t> glow;    // channels that should be dark and are not
    Percent brightest_glow = 0;
    std::vector<std::string> mixed;  // fixtures whose colour stands in two recordings that are up
    bool in_time() const { return !room || work <= *room; }
};

// A cell that stands for itself in the reason why there are no fewer submasters: column `i` of `highest` is
// the channel of the i-th cell.
struct ReasonCell {
    Index cue;
    std::size_t channel;           // into Pictures::channels
    Percent lowest;                // that the cue may have on the channel
    std::vector<Percent> highest;  // that it may have on the channels of all cells of the reason
};

struct Recordings {
    std::vector<Recording> recordings;
    std::vector<RunStep> run;
    std::size_t room = 0;     // submasters × pages
    std::size_t needed = 0;   // the fewest found
    bool can_be_kept = true;  // false: no number does, as far as was found
    bool kept = true;         // levels are within half a notch, or in their named range
    std::uint64_t lost = 0;   // settings, cue by cue, that are not
    std::vector<ReasonCell> reason;
    std::vector<std::uint32_t> not_levels;  // channels in use of positions and beams
};

// A cue's level may be off by half a notch; where it belongs to a named range, the setting that presets have
// (Picture::set) and others that are as near and in the range; where `keep` holds it, none under that floor.
// Colours of a fixture whose own master is down in the cue may have any level: they come and go with its
// light.
Recordings make_recordings(const show::Show& show, const show::Desk& desk, const show::Layout& layout,
                           const Pictures& pictures);

}  // namespace tallow::desk
