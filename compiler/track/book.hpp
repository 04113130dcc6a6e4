// What is worked out once for a show, whoever asks: its colours on each type, and the steps of its chases.
#pragma once

#include <map>

#include "compiler/track/chase_picture.hpp"
#include "compiler/track/colours.hpp"

namespace tallow::track {

class Book {
  public:
    explicit Book(const Show& show) : colours(show), show_(show) {}

    Colours colours;
    // Good until the book goes.
    const ChasePicture& chase(Index index);

  private:
    const Show& show_;
    std::map<Index, ChasePicture> chases_;
};

}  // namespace tallow::track
