// Which of the texts that could stand in a place a misspelt one was most likely meant to be.
#pragma once

#include <string>
#include <string_view>

namespace tallow::text {

class Nearest {
  public:
    explicit Nearest(std::string_view written);

    // A text that could stand there; it lives as long as this. Of several as near, the first offered counts.
    void offer(std::string_view text);
    // The nearest one: a sign apart where fewer than five were written, or two. Empty where none is near.
    std::string_view text() const { return nearest_; }

  private:
    std::string written_;
    std::size_t least_;  // a distance that is too large, or the least so far
    std::string_view nearest_;
};

}  // namespace tallow::text
