// The steps of a chase as levels.
#pragma once

#include <vector>

#include "compiler/show/show.hpp"

namespace tallow::track {

using runtime::Level;
using show::Index;
using show::Show;

class Book;

struct ChasePicture {
    std::vector<Index> parameter;     // all that the steps name, growing
    std::vector<std::uint8_t> jumps;  // of each: 1 where a step's value does not fade
    std::vector<Level> level;         // of all parameters in step 1, then in step 2 …

    // Of a parameter that the steps name: in the first step, and over all of them.
    struct Span {
        Level first, low, high;
    };
    Span span(Index of) const;
};

// In a step a level that it does not name is 0. A colour or another value that it does not name stays as the
// step before it had it; ahead of the first step that names it, it is there already.
ChasePicture chase_picture(const Show& show, Book& book, const show::Chase& chase);

}  // namespace tallow::track
