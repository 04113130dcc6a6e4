#include "runtime/nearest.hpp"

#include <algorithm>
#include <fmt/format.h>
#include <vector>

namespace tallow::runtime {

// The restricted distance, in which no stretch is changed twice: rows of the usual table, and the one before
// the last for swapped neighbours.
std::size_t edit_distance(std::string_view a, std::string_view b, std::size_t limit) {
    const std::size_t gap = a.size() > b.size() ? a.size() - b.size() : b.size() - a.size();
    if (gap > limit) return limit + 1;
    std::vector<std::size_t> before(b.size() + 1), above(b.size() + 1), row(b.size() + 1);
    for (std::size_t j = 0; j <= b.size(); ++j) row[j] = j;
    for (std::size_t i = 1; i <= a.size(); ++i) {
        before.swap(above);
        above.swap(row);
        std::size_t least = row[0] = i;
        for (std::size_t j = 1; j <= b.size(); ++j) {
            row[j] = std::min({above[j - 1] + (a[i - 1] == b[j - 1] ? 0 : 1), above[j] + 1, row[j - 1] + 1});
            if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1])
                row[j] = std::min(row[j], before[j - 2] + 1);
            least = std::min(least, row[j]);
        }
        if (least > limit) return limit + 1;
    }
    return std::min(row[b.size()], limit + 1);
}

Nearest::Nearest(std::string_view written)
    : written_(written.substr(0, 64)), least_(written_.size() < 5 ? 2 : 3) {}

void Nearest::offer(std::string_view text) {
    const std::size_t distance = edit_distance(written_, text, 2);
    if (distance >= least_ || distance + 1 >= text.size()) return;
    least_ = distance;
    nearest_ = text;
}

std::string Nearest::question() const {
    return nearest_.empty() ? "" : fmt::format("did you mean `{}`?", nearest_);
}

}  // namespace tallow::runtime
