// The levels that `keep` lets no intensity go under.
#pragma once

#include <vector>

#include "compiler/show/show.hpp"

namespace tallow::track {

class Floors {
  public:
    explicit Floors(const show::Show& show);

    bool any() const { return !least_.empty(); }
    // 0: it has none.
    show::Level of(show::Index parameter) const { return any() ? least_[parameter] : show::Level{0}; }

  private:
    std::vector<show::Level> least_;  // by parameter; empty without a `keep`
};

}  // namespace tallow::track
