// Fixtures and cells of a selection, to be asked for.
#pragma once

#include <unordered_map>
#include <vector>

#include "compiler/show/show.hpp"

namespace tallow::show {

class ElementSet {
  public:
    explicit ElementSet(const Selection& selection);

    // What of an element lies in the set: itself where it or its whole fixture does, or else those of its
    // cells that do, in the set's order.
    void common(Element element, std::vector<Element>& out) const;

  private:
    struct Cells {
        bool whole = false;
        std::vector<std::uint16_t> cells;
    };
    std::unordered_map<Index, Cells> by_fixture_;  // never walked
};

}  // namespace tallow::show
