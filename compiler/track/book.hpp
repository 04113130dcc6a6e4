// What is worked out once for a show, whoever asks: its colours on each type, its floors, and the steps of
// its chases.
#pragma once

#include <map>

#include "compiler/track/chase_picture.hpp"
#include "compiler/track/colours.hpp"
#include "compiler/track/floors.hpp"

namespace tallow::track {

class Book {
  public:
    explicit Book(const Show& show) : colours(show), floors(show), show_(show) {}

    Colours colours;
    Floors floors;
    // Good until the book goes.
    const ChasePicture& chase(Index index);

  private:
    const Show& show_;
    std::map<Index, ChasePicture> chases_;
};

}  // namespace tallow::track
