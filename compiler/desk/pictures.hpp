// What each cue looks like on a desk's faders: the channels, and every cue's settled level on each.
//
// A desk channel is a slot address of the universe that the desk plays, one to one, but for those that the
// desk's `channel` lines put on another slot. A slot that such a line names leaves its own channel.
#pragma once

#include <cstdint>
#include <map>
#include <string>
#include <vector>

#include "compiler/desk/percent.hpp"
#include "compiler/show/show.hpp"
#include "compiler/track/tracker.hpp"

namespace tallow::desk {

using show::Index;

struct Channel {
    std::uint16_t number;  // 1..512
    std::uint16_t universe, slot;
    Index parameter;   // into Show::parameters
    bool fine;         // the fine byte of a 16-bit parameter: no fader can set it, and it stays blank
    std::string name;  // `cyc 2 cell 3 red`
    // What `keep` says, as it is sent: of the channel's own level, and of the virtual intensity that scales
    // it. 0: nothing.
    Percent floor = 0, floor_above = 0;
};

// A cue's levels, one of each for every channel.
struct Picture {
    std::vector<Percent> wanted;             // what the show has
    std::vector<Percent> set;                // the nearest that a fader can be set to
    std::vector<std::vector<Index>> waves;   // into Show::waves: those held at the middle of their range
    std::vector<std::vector<Index>> chases;  // into Show::chases: those held at their first step
    std::vector<Percent> swing;              // how far they would go from it, at most; 0 without one
    std::vector<std::uint32_t> chase;        // of the desk, that plays it, from 1; 0: its fader does
};

struct Pictures {
    std::vector<Channel> channels;  // by number
    std::vector<Picture> cues;      // one for each of the main list
    std::size_t elsewhere = 0;      // fixtures that have slots, and none of them on a channel
    // Slots of the desk's universe that a `channel` line pushed off their channel, and so are on none: their
    // number is 0. Of each cue those (into `pushed`) that it wants above 0.
    std::vector<Channel> pushed;
    std::vector<std::vector<Index>> pushed_lit;
};

// A level of the runtime in percent.
Percent percent_of(std::int64_t level);

// A wave counts with the middle of its range, as a fade judges it (Stage::twice_middle), a chase with its
// first step. A value of a named
// range takes the nearest setting that stays in the range, where there is one. What `keep` says is in all
// levels, and no setting goes under it.
Pictures take_pictures(const show::Show& show, track::Book& book, const show::Desk& desk);

// How many channels (the first so many) a layout gives.
std::size_t width_of(const Pictures& pictures, const show::Layout& layout);

// Where each parameter stands among the first `width` channels, by its coarse one.
std::map<Index, std::size_t> channels_by_parameter(const Pictures& pictures, std::size_t width);

// The range of the channel's parameter in which a level lies, or null.
const show::Range* range_of(const show::Show& show, const Channel& channel, Percent level);

}  // namespace tallow::desk
