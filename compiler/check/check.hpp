// What only the whole show can tell: warnings about what its cues do, and the closing lines of `tallow
// check`.
#pragma once

#include <string>
#include <vector>

#include "compiler/check/typical.hpp"
#include "compiler/check/wave_colours.hpp"
#include "compiler/show/show.hpp"
#include "compiler/source/diagnostics.hpp"
#include "compiler/track/tracker.hpp"

namespace tallow::check {

// A fixture that is lit when the last cue has been played.
struct StillLit {
    Index fixture;
    Index cue;             // that brought its level; none: `keep` holds it
    runtime::Level level;  // the highest of its parts
};

struct Summary {
    std::size_t fixtures = 0;  // bodies, gangs counted whole
    std::vector<std::uint16_t> universes;
    std::uint16_t last_universe = 0, last_slot = 0;
    std::vector<Index> automatic;     // cues that start by themselves
    std::vector<TypicalUse> typical;  // what rests on typical emitters
    std::vector<StillLit> lit;        // by cue, then in the order of the patch
    std::vector<Index> chasing;       // chases that run when the last cue of a list has been played
};

// Plays all cues; findings go to the sink.
Summary check(const Show& show, track::Book& book, source::Sink& sink);

// The summary as plain lines, each ended.
std::string render(const Summary& summary, const Show& show);

// The families of checks.
void check_gamut(const Show& show, const track::Colours& colours, const std::set<HueTurn>& hues,
                 source::Sink& sink);
// Which cue lists give colours: by parameter of the rig, a list, `several`, or none.
inline constexpr Index several = show::none - 1;
std::vector<Index> colouring_lists(const Show& show, track::Book& book);
// Whether an intensity stands over an emitter that was given no colour, by the tracker's list or another one.
bool over_uncoloured(const Show& show, const track::Tracker& tracker, const std::vector<Index>& colouring,
                     Index intensity);
// After each cue that the tracker has played. Another list may have given a colour before.
void check_lit(const Show& show, const track::Tracker& tracker, const std::vector<Index>& colouring,
               source::Sink& sink);
// What the panic look lights, and in which colours.
void check_panic(const Show& show, track::Book& book, source::Sink& sink);

}  // namespace tallow::check
