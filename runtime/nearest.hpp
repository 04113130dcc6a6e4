// Which of the texts that could stand in a place a misspelt one was most likely meant to be.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>

namespace tallow::runtime {

// How many signs have to be changed, left out, put in or swapped with a neighbour to make one of the other,
// at most `limit` + 1.
std::size_t edit_distance(std::string_view a, std::string_view b, std::size_t limit);

class Nearest {
  public:
    // Of what was written, in small letters, the first 64 bytes count.
    explicit Nearest(std::string_view written);

    // A text that could stand there; it lives as long as this. Of several as near, the first offered counts.
    void offer(std::string_view text);
    // The nearest one: a sign apart where fewer than five were written, or two. Empty where none is near.
    std::string_view text() const { return nearest_; }
    // What to say of it: "did you mean `TEXT`?"; empty where none is near.
    std::string question() const;

  private:
    std::string written_;
    std::size_t least_;  // a distance that is too large, or the least so far
    std::string_view nearest_;
};

}  // namespace tallow::runtime
