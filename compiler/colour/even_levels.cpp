// The best levels are a straight line over the places, cut off at 0 and at 1 (the condition of Karush, Kuhn
// and Tucker). So in order of place some first ones are at one bound, some last ones at the other, and the
// equations give the line between: every such split is tried.
#include "compiler/colour/even_levels.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>
#include <numeric>

namespace tallow::colour {
namespace {

constexpr double one_place = 1e-20;  // places whose squared spread is below this are one
constexpr double off_price = 1e6;    // what a missed equation weighs against the squares

using Levels = std::vector<double>;

// Lays places [from, to) on the line that supplies what the others leave of the total and the moment.
void lay_line(Levels& level, const Levels& place, std::size_t from, std::size_t to, double total,
              double moment) {
    for (std::size_t k = 0; k < place.size(); ++k) {
        if (k >= from && k < to) continue;
        total -= level[k];
        moment -= level[k] * place[k];
    }
    const auto count = static_cast<double>(to - from);
    const double middle = std::accumulate(place.begin() + from, place.begin() + to, 0.0) / count;
    double spread = 0;
    for (std::size_t k = from; k < to; ++k) spread += (place[k] - middle) * (place[k] - middle);
    const double slope = spread > one_place ? (moment - total * middle) / spread : 0;
    for (std::size_t k = from; k < to; ++k)
        level[k] = std::clamp(total / count + slope * (place[k] - middle), 0.0, 1.0);
}

double score(const Levels& level, const Levels& place, double total, double moment) {
    double squares = 0;
    for (std::size_t k = 0; k < place.size(); ++k) {
        squares += level[k] * level[k];
        total -= level[k];
        moment -= level[k] * place[k];
    }
    return squares + off_price * (std::fabs(total) + std::fabs(moment));
}

Levels best_split(const Levels& place, double total, double moment) {
    const std::size_t n = place.size();
    Levels best;
    double best_score = std::numeric_limits<double>::infinity();
    for (const double first_bound : {0.0, 1.0})
        for (std::size_t from = 0; from <= n; ++from)
            for (std::size_t to = from; to <= n; ++to) {
                Levels level(n, 1 - first_bound);
                std::fill_n(level.begin(), from, first_bound);
                if (to > from) lay_line(level, place, from, to, total, moment);
                const double s = score(level, place, total, moment);
                if (s < best_score) best_score = s, best = std::move(level);
            }
    return best;
}

}  // namespace

std::vector<double> even_levels(std::span<const double> place, double total, double moment) {
    std::vector<std::size_t> order(place.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::stable_sort(order.begin(), order.end(), [&](auto i, auto j) { return place[i] < place[j]; });
    Levels sorted;
    for (const std::size_t k : order) sorted.push_back(place[k]);
    const Levels level = best_split(sorted, total, moment);
    Levels result(place.size());
    for (std::size_t k = 0; k < order.size(); ++k) result[order[k]] = level[k];
    return result;
}

}  // namespace tallow::colour
