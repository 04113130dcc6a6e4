#include "compiler/show/patch_order.hpp"

#include <algorithm>
#include <numeric>
#include <tuple>

namespace tallow::show {

std::vector<Index> patch_order(const Show& show) {
    std::vector<Index> order(show.fixtures.size());
    std::iota(order.begin(), order.end(), 0u);
    std::sort(order.begin(), order.end(), [&](Index a, Index b) {
        const Fixture &f = show.fixtures[a], &g = show.fixtures[b];
        return std::tuple(f.universe, f.address, a) < std::tuple(g.universe, g.address, b);
    });
    return order;
}

}  // namespace tallow::show
