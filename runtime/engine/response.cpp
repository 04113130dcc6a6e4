#include "runtime/engine/response.hpp"

#include <algorithm>

namespace tallow::runtime {
namespace {

Level between(const Response& response, std::size_t knot, std::uint32_t level) {
    const std::uint64_t from = response.level[knot], length = response.level[knot + 1] - from;
    const std::uint64_t low = response.slot[knot], rise = response.slot[knot + 1] - low;
    return static_cast<Level>(low + (2 * rise * (level - from) + length) / (2 * length));
}

}  // namespace

Level respond(const Response& response, Level level) {
    const auto behind = std::upper_bound(response.level.begin() + 1, response.level.end() - 1, level);
    return between(response, static_cast<std::size_t>(behind - response.level.begin()) - 1, level);
}

std::vector<Level> response_table(const Response& response) {
    std::vector<Level> table;
    table.reserve(std::size_t{full} + 1);
    std::size_t knot = 0;
    for (std::uint32_t level = 0; level <= full; ++level) {
        while (knot + 2 < response.level.size() && response.level[knot + 1] <= level) ++knot;
        table.push_back(between(response, knot, level));
    }
    return table;
}

}  // namespace tallow::runtime
