#include "compiler/desk/submasters/plan.hpp"

#include <numeric>
#include <optional>

#include "compiler/desk/submasters/fewest.hpp"
#include "compiler/desk/submasters/nearest.hpp"

namespace tallow::desk::submasters {
namespace {

constexpr std::uint64_t work_for_fewest = 1'500'000'000, work_for_few = 150'000'000;
constexpr std::size_t most_to_search = std::size_t{1} << 26;  // cells × the shorter side
constexpr std::size_t most_to_tune = std::size_t{1} << 29;    // cells × recordings²
// Of `beyond`: parts of a notch, but no finer than this.
constexpr Percent precision = 16, finest = 10'000;

// One recording for each cue, or one at full for each channel, by what is less.
Levels plain_recordings(const Bounds& bounds, Percent notch) {
    const std::size_t rows = bounds.high.rows(), columns = bounds.high.columns();
    Levels all(std::min(rows, columns), columns);
    for (std::size_t r = 0; r < all.rows(); ++r) {
        if (columns <= rows) all.at(r, r) = all_of_it;
        for (std::size_t j = 0; j < columns && rows < columns; ++j)
            all.at(r, j) = setting_below(bounds.high.at(r, j), notch);
    }
    return all;
}

// Whether a hand can set each level within its bounds: then the plain recordings keep them.
bool can_be_set(const Bounds& bounds, Percent notch) {
    for (std::size_t i = 0; i < bounds.low.rows(); ++i)
        for (std::size_t j = 0; j < bounds.low.columns(); ++j)
            if (setting_below(bounds.high.at(i, j), notch) < bounds.low.at(i, j)) return false;
    return true;
}

// Recordings of all channels that keep the bounds, at most so many, or nothing.
std::optional<Levels> find(const Bounds& bounds, const Reduced& small, Percent notch,
                           const std::vector<Cell>& apart, Limits limits) {
    const std::size_t rows = small.bounds.low.rows(), columns = small.bounds.low.columns();
    Levels found;
    if (rows * columns * std::min(rows, columns) <= most_to_search && limits.most > 0) {
        Fewest fewest = find_fewest(small.bounds, notch, apart, limits);
        if (fewest.missed == 0) found = std::move(fewest.recordings);
    }
    const std::size_t plain = std::min(rows, columns);
    if ((found.rows() == 0 || found.rows() > plain) && plain <= limits.most && can_be_set(bounds, notch))
        found = plain_recordings(small.bounds, notch);
    if (found.rows() == 0 && rows > 0) return std::nullopt;
    Levels all(found.rows(), bounds.low.columns());
    for (std::size_t r = 0; r < found.rows(); ++r)
        for (std::size_t j = 0; j < all.columns(); ++j)
            if (small.column[j] != nowhere) all.at(r, j) = found.at(r, small.column[j]);
    return all;
}

Bounds widened(const Bounds& bounds, Percent by) {
    Bounds wide = bounds;
    for (std::size_t i = 0; i < wide.low.rows(); ++i) {
        for (std::size_t j = 0; j < wide.low.columns(); ++j) {
            wide.low.at(i, j) = std::max(bounds.low.at(i, j) - by, Percent{0});
            wide.high.at(i, j) = std::min(bounds.high.at(i, j) + by, all_of_it);
        }
    }
    return wide;
}

// The least widening with which so many submasters were found to do, by halving.
Levels find_few(const Task& task, Percent notch, Percent& beyond, Bounds& bounds) {
    const Percent step = std::max(notch / precision, finest);
    Percent too_little = 0, enough = (all_of_it + step - 1) / step;
    Levels best(0, task.wanted.columns());
    while (enough - too_little > 1) {
        const Percent middle = too_little + (enough - too_little) / 2;
        const Bounds wide = widened(task.bounds, middle * step);
        const Reduced small = reduced(wide);
        if (auto found = find(wide, small, notch, {}, {task.most, task.most, work_for_few})) {
            best = std::move(*found);
            enough = middle;
        } else {
            too_little = middle;
        }
    }
    beyond = enough * step;
    bounds = widened(task.bounds, beyond);
    return best;
}

// By the cue that raises each first; without those that no cue raises.
void put_in_order(Plan& plan) {
    std::vector<std::size_t> first(plan.recordings.rows(), nowhere), order;
    for (std::size_t r = 0; r < first.size(); ++r)
        for (std::size_t c = plan.positions.rows(); c-- > 0;)
            if (plan.positions.at(c, r) > 0) first[r] = c;
    for (std::size_t r = 0; r < first.size(); ++r)
        if (first[r] != nowhere) order.push_back(r);
    std::stable_sort(order.begin(), order.end(),
                     [&](std::size_t a, std::size_t b) { return first[a] < first[b]; });
    Levels recordings(order.size(), plan.recordings.columns());
    Levels positions(plan.positions.rows(), order.size());
    for (std::size_t r = 0; r < order.size(); ++r) {
        for (std::size_t j = 0; j < recordings.columns(); ++j)
            recordings.at(r, j) = plan.recordings.at(order[r], j);
        for (std::size_t c = 0; c < positions.rows(); ++c)
            positions.at(c, r) = plan.positions.at(c, order[r]);
    }
    plan.recordings = std::move(recordings);
    plan.positions = std::move(positions);
}

}  // namespace

Plan make_plan(const Task& task) {
    Plan plan;
    const Percent notch = std::max(task.notch, Percent{1});
    const Reduced small = reduced(task.bounds);
    std::vector<Cell> apart = cells_apart(small.bounds);
    for (const Cell& c : apart) plan.apart.push_back({small.cue[c.cue], small.channel[c.channel]});

    auto found = find(task.bounds, small, notch, apart, {nowhere, 0, work_for_fewest});
    plan.can_be_kept = found.has_value();
    if (found) plan.needed = found->rows();
    Bounds bounds = task.bounds;
    plan.recordings =
        found && found->rows() <= task.most ? std::move(*found) : find_few(task, notch, plan.beyond, bounds);
    const std::size_t recordings = plan.recordings.rows();
    plan.positions = fewest_moves(bounds, plan.recordings, notch,
                                  recordings > task.on_page ? Unneeded::goes_down : Unneeded::stays);
    if (task.wanted.rows() * task.wanted.columns() * recordings * recordings <= most_to_tune)
        bring_nearer(task.wanted, bounds, notch, plan.positions, plan.recordings);
    put_in_order(plan);
    plan.error = errors_of(task.wanted, plan.positions, plan.recordings);
    return plan;
}

}  // namespace tallow::desk::submasters
