// The kinds of fixtures of a show that can take a colour.
#pragma once

#include <string>
#include <vector>

#include "compiler/track/colours.hpp"
#include "compiler/track/mixing.hpp"

namespace tallow::palettes {

using show::Index;
using show::Show;

using track::Way;

// Fixtures in use that show a colour alike.
struct Kind {
    track::Alike alike;
    std::string name;  // `wash`, or `wash in stage` where `stage` is a balanced group
    Way way = Way::emitters;
    struct Depth {
        bool bits_8 = false, bits_16 = false;
    };
    std::vector<Depth> depth;  // that the modes in use have: one for each of Type::emitters; one of a wheel
    std::vector<Index> fixtures;  // as declared, gangs once
    std::vector<Index> examples;  // one of them for each mode in use
};

// In the order of the text.
std::vector<Kind> kinds_in_use(const Show& show);

}  // namespace tallow::palettes
