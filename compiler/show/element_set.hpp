// Fixtures and cells of a selection, to be asked for.
#pragma once

#include <vector>

#include "compiler/show/show.hpp"

namespace tallow::show {

class ElementSet {
  public:
    // Of the selection, what lies in `within` too, or all of it.
    explicit ElementSet(const Selection& selection, const ElementSet* within = nullptr);

    // What of an element lies in the set: itself where it or its whole fixture does, or else those of its
    // cells that do.
    void common(Element element, std::vector<Element>& out) const;
    // Whether all of an element lies in it.
    bool holds(Element element) const { return has(element) || has({element.fixture, 0}); }
    bool meets(Element element) const;
    // Whether any of a selection does.
    bool meets(const Selection& selection) const;

  private:
    bool has(Element element) const;
    std::vector<Element> elements_;  // by fixture, then by cell; each once
};

}  // namespace tallow::show
