// What a fixture or cell does after a cue, value by value, in the words of the show.
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "compiler/source/sources.hpp"
#include "compiler/track/tracker.hpp"

namespace tallow::cues {

using show::Element;
using show::Index;

struct Aspect {
    std::string what;  // level, colour, wave, or a parameter: `pan`
    // `60%`, `out, never under 10%`, `amber`, `red 40% green 20%`, `pan 12deg`, `wave ripple`
    std::string words;
    std::vector<Index> parameters;
    std::vector<std::pair<std::string, runtime::Level>> levels;  // by attribute; of a wave none
    track::Origin from;
    bool operator==(const Aspect& other) const {  // the same words from the same lines, wherever they stand
        return what == other.what && words == other.words && levels == other.levels && from == other.from;
    }
};

// What the aspects are read from; all of it must outlive them.
struct Stage {
    const show::Show& show;
    const source::Sources& sources;
    track::Book& book;
    const track::Tracker& tracker;  // keeps origins
};

// Of the parameters that are the fixture's own (cell 0) or a cell's: colours, levels, parameters in slot
// order, waves. Emitters that one line set are one aspect: a palette's name or a colour's words where that
// line says exactly this colour.
std::vector<Aspect> aspects(const Stage& stage, Element element);

// `wave ripple`, `chase runner`: what an instance is called.
std::string instance_name(const show::Show& show, const track::WaveInstance& instance);

// Whether the fixture, or this cell, gives light, by a floor too; waves aside, and chases as if they did.
bool lit(const Stage& stage, Element element);

// Whether an aspect says no more than a fixture says to which nothing was said, and that has no floor.
bool at_home(const Stage& stage, const Aspect& aspect);

}  // namespace tallow::cues
