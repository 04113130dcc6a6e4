// The show's pictures as a layout plays them: chases of the desk take what moves off its faders. A layout of
// fewer channels has less for them to do.
#pragma once

#include <map>

#include "compiler/desk/chases.hpp"

namespace tallow::desk {

struct Staging {
    Pictures pictures;
    Chases chases;
};

class Stagings {
  public:
    Stagings(const show::Show& show, track::Book& book, const show::Desk& desk);

    // Of a layout of the desk.
    const Staging& on(const show::Layout& layout) const { return by_width_.at(width_of(pictures_, layout)); }
    // With all that moves held still.
    const Pictures& pictures() const { return pictures_; }

  private:
    Pictures pictures_;
    std::map<std::size_t, Staging> by_width_;
};

}  // namespace tallow::desk
