#include "tests/support/planted.hpp"

#include <algorithm>
#include <cstdlib>

namespace tallow::test {

using desk::Levels;
using desk::Percent;
namespace submasters = desk::submasters;

namespace {

constexpr Percent full = 100'000'000;
__extension__ typedef __int128 Wide;

Levels random_settings(Random& random, std::size_t rows, std::size_t columns, Percent notch, unsigned down) {
    Levels levels(rows, columns);
    for (std::size_t i = 0; i < rows; ++i)
        for (std::size_t j = 0; j < columns; ++j)
            if (random.below(100u) >= down) levels.at(i, j) = random.below(full / notch + 1) * notch;
    return levels;
}

std::int64_t highest(const Levels& positions, const Levels& recordings, std::size_t cue,
                     std::size_t channel) {
    std::int64_t most = 0;
    for (std::size_t r = 0; r < recordings.rows(); ++r)
        most = std::max(most, positions.at(cue, r) * recordings.at(r, channel));
    return most;
}

bool can_be_set(const Levels& levels, Percent notch) {
    for (std::size_t i = 0; i < levels.rows(); ++i) {
        for (std::size_t j = 0; j < levels.columns(); ++j) {
            const Percent l = levels.at(i, j);
            if (l < 0 || l > full || (l % notch != 0 && l != full)) return false;
        }
    }
    return true;
}

}  // namespace

Levels planted(Random& random, std::size_t cues, std::size_t channels, std::size_t recordings, Percent notch,
               unsigned down) {
    const Levels positions = random_settings(random, cues, recordings, notch, down);
    const Levels levels = random_settings(random, recordings, channels, notch, down);
    Levels wanted(cues, channels);
    for (std::size_t c = 0; c < cues; ++c)
        for (std::size_t j = 0; j < channels; ++j) wanted.at(c, j) = highest(positions, levels, c, j) / full;
    return wanted;
}

submasters::Task task_for(const Levels& wanted, Percent notch, std::size_t most) {
    return {wanted, submasters::bounds_around(wanted, notch / 2), notch, most};
}

std::int64_t worst_distance(const Levels& wanted, const submasters::Plan& plan, Percent notch) {
    if (!can_be_set(plan.positions, notch) || !can_be_set(plan.recordings, notch)) return -1;
    std::int64_t worst = 0;
    for (std::size_t c = 0; c < wanted.rows(); ++c)
        for (std::size_t j = 0; j < wanted.columns(); ++j)
            worst = std::max(
                worst, std::abs(highest(plan.positions, plan.recordings, c, j) - wanted.at(c, j) * full));
    return worst;
}

bool all_apart(const Levels& wanted, const std::vector<submasters::Cell>& cells, Percent notch) {
    // Twice the levels, so that half a notch is whole.
    const auto least = [&](std::size_t c, std::size_t j) -> Wide {
        return std::max<Percent>(2 * wanted.at(c, j) - notch, 0);
    };
    const auto most = [&](std::size_t c, std::size_t j) -> Wide {
        return std::min<Percent>(2 * wanted.at(c, j) + notch, 2 * full);
    };
    for (std::size_t a = 0; a < cells.size(); ++a)
        for (std::size_t b = 0; b < a; ++b)
            if (least(cells[a].cue, cells[a].channel) * least(cells[b].cue, cells[b].channel) <=
                most(cells[a].cue, cells[b].channel) * most(cells[b].cue, cells[a].channel))
                return false;
    return true;
}

}  // namespace tallow::test
