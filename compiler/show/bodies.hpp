// Reads which bodies hang on what feeds them: whole fixtures, each body of a gang by itself, each at one
// place.
#pragma once

#include <string_view>
#include <unordered_map>
#include <vector>

#include "compiler/show/selection.hpp"

namespace tallow::show {

class BodyReader {
  public:
    // `what` feeds them: "circuit".
    BodyReader(Scope& scope, Selector& selector, std::string_view what)
        : scope_(scope), selector_(selector), what_(what) {}

    // The fixtures of a line, in order; none after a fault. A fixture that an earlier line holds is reported.
    std::vector<Index> read(Reader& line);

  private:
    Scope& scope_;
    Selector& selector_;
    std::string_view what_;
    std::unordered_map<Index, Span> places_;  // by fixture: the selection that holds it
};

}  // namespace tallow::show
