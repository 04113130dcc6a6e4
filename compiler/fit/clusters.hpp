// Which fixtures come nearest to one another in all pictures of the show.
#pragma once

#include "compiler/fit/trial.hpp"

namespace tallow::fit {

// Between which values, 0..1, a fixture stays in every scene, output by output. They are apart where a wave
// or a chase moves it.
struct Row {
    std::vector<float> low, high;
};

// Of all fixtures of the show as it is.
class Rows {
  public:
    explicit Rows(const Tester& tester);
    std::vector<Row> of(const std::vector<Index>& fixtures) const;

  private:
    std::vector<Row> rows_;  // by fixture
};

// Two members, and the largest difference, 0..1, of any two in their clusters, at any
// time in a scene, once these are one.
struct Merge {
    std::size_t first, second;
    double difference;
};

// Joins the two nearest clusters until there is one: one merge less than there are members, of growing
// difference. Of more than 48 members those alone that follow one another are joined.
std::vector<Merge> merges(const std::vector<Row>& members);

}  // namespace tallow::fit
