#include "compiler/text/nearest.hpp"

#include "compiler/text/utf8.hpp"

namespace tallow::text {

Nearest::Nearest(std::string_view written)
    : written_(small_letters(written.substr(0, 64))), least_(written_.size() < 5 ? 2 : 3) {}

void Nearest::offer(std::string_view text) {
    const std::size_t distance = edit_distance(written_, text, 2);
    if (distance >= least_ || distance + 1 >= text.size()) return;
    least_ = distance;
    nearest_ = text;
}

}  // namespace tallow::text
