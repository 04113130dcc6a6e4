// The largest clique in the graph of cells that cannot share a submaster, by local search: add a cell that
// is apart from all; else exchange one cell for another; cells that were in many cliques wait.
#include "compiler/desk/submasters/clique.hpp"

#include <algorithm>
#include <numeric>

#include "compiler/desk/submasters/draws.hpp"

namespace tallow::desk::submasters {
namespace {

constexpr std::size_t most_cells = 1024;  // of the graph: those that are apart from most others
constexpr std::size_t sample = 64;        // cells that each is held against to judge that
constexpr std::size_t most_steps = 6000;  // additions and exchanges

std::vector<Cell> cells_that_ask(const Bounds& bounds) {
    std::vector<Cell> cells;
    for (std::size_t i = 0; i < bounds.low.rows(); ++i)
        for (std::size_t j = 0; j < bounds.low.columns(); ++j)
            if (bounds.low.at(i, j) > 0) cells.push_back({i, j});
    return cells;
}

// The cells that are apart from most of a sample, at most `most_cells`; in the order of that.
std::vector<Cell> promising(const Bounds& bounds, Draws& draws) {
    std::vector<Cell> all = cells_that_ask(bounds);
    if (all.empty()) return all;
    std::vector<Cell> others = all;
    if (all.size() > most_cells)
        for (std::size_t n = 0; n < sample; ++n) others[n] = all[draws.below(all.size())];
    others.resize(std::min(others.size(), all.size() > most_cells ? sample : all.size()));
    std::vector<std::size_t> apart(all.size()), order(all.size());
    for (std::size_t v = 0; v < all.size(); ++v)
        for (const Cell& other : others) apart[v] += cannot_share(bounds, all[v], other);
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::stable_sort(order.begin(), order.end(),
                     [&](std::size_t a, std::size_t b) { return apart[a] > apart[b]; });
    order.resize(std::min(order.size(), most_cells));
    std::vector<Cell> cells;
    cells.reserve(order.size());
    for (const std::size_t v : order) cells.push_back(all[v]);
    return cells;
}

class Search {
  public:
    Search(const Bounds& bounds, Draws& draws)
        : draws_(draws),
          cells_(promising(bounds, draws)),
          apart_(cells_.size(), std::vector<char>(cells_.size())),
          missing_(cells_.size()),
          waits_(cells_.size()),
          left_(cells_.size()),
          inside_(cells_.size()) {
        for (std::size_t a = 0; a < cells_.size(); ++a)
            for (std::size_t b = a + 1; b < cells_.size(); ++b)
                apart_[a][b] = apart_[b][a] = cannot_share(bounds, cells_[a], cells_[b]);
    }

    std::vector<Cell> run() {
        std::vector<std::size_t> best;
        for (std::size_t step = 0; step < most_steps && !cells_.empty(); ++step) {
            std::size_t v = choose(0);
            if (v == nowhere) v = choose(1);
            if (v == nowhere) {
                start_again();
                continue;
            }
            bring(v);
            if (clique_.size() > best.size()) best = clique_;
        }
        std::vector<Cell> cells;
        cells.reserve(best.size());
        for (const std::size_t v : best) cells.push_back(cells_[v]);
        return cells;
    }

  private:
    // Of the cells that are not apart from so many of the clique, the one that waited longest.
    std::size_t choose(std::size_t missing) {
        std::size_t chosen = nowhere, ties = 0;
        for (std::size_t v = 0; v < cells_.size(); ++v) {
            if (inside_[v] || left_[v] || missing_[v] != missing) continue;
            if (chosen != nowhere && waits_[v] > waits_[chosen]) continue;
            ties = chosen != nowhere && waits_[v] == waits_[chosen] ? ties + 1 : 1;
            if (ties == 1 || draws_.below(ties) == 0) chosen = v;
        }
        return chosen;
    }

    void bring(std::size_t v) {
        for (std::size_t i = 0; i < clique_.size(); ++i)
            if (!apart_[v][clique_[i]]) take_out(i--);
        clique_.push_back(v);
        inside_[v] = 1;
        for (std::size_t u = 0; u < cells_.size(); ++u) missing_[u] += !apart_[v][u];
    }

    // It stays out until the search starts again.
    void take_out(std::size_t i) {
        const std::size_t v = clique_[i];
        clique_.erase(clique_.begin() + static_cast<std::ptrdiff_t>(i));
        inside_[v] = 0;
        left_[v] = 1;
        for (std::size_t u = 0; u < cells_.size(); ++u) missing_[u] -= !apart_[v][u];
    }

    void start_again() {
        for (const std::size_t v : clique_) ++waits_[v];
        while (!clique_.empty()) take_out(clique_.size() - 1);
        std::fill(left_.begin(), left_.end(), char{0});
        bring(draws_.below(cells_.size()));
    }

    Draws& draws_;
    std::vector<Cell> cells_;
    std::vector<std::vector<char>> apart_;
    std::vector<std::size_t> missing_;  // of each cell, how many of the clique it is not apart from
    std::vector<std::size_t> waits_;
    std::vector<char> left_, inside_;
    std::vector<std::size_t> clique_;
};

}  // namespace

bool cannot_share(const Bounds& b, Cell x, Cell y) {
    return b.low.at(x.cue, x.channel) * b.low.at(y.cue, y.channel) >
           b.high.at(x.cue, y.channel) * b.high.at(y.cue, x.channel);
}

std::vector<Cell> cells_apart(const Bounds& bounds) {
    Draws draws;
    return Search(bounds, draws).run();
}

}  // namespace tallow::desk::submasters
