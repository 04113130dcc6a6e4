#include "compiler/desk/submasters/positions.hpp"

#include <tuple>
#include <utility>

#include "compiler/desk/submasters/reach.hpp"

namespace tallow::desk::submasters {
namespace {

constexpr int most_rounds = 8;

// The position that stays longest from a cue on, and up to which cue: for as long as the spans have a
// setting in common. Down, where that is one.
std::pair<Percent, std::size_t> longest_stay(const std::vector<Between>& spans, std::size_t from) {
    Between common = spans[from];
    std::size_t end = from + 1;
    for (; end < spans.size(); ++end) {
        const Between next{std::max(common.low, spans[end].low), std::min(common.high, spans[end].high)};
        if (next.low > next.high) break;
        common = next;
    }
    return {common.low == 0 ? 0 : common.high, end};
}

void save_moves_of(std::size_t recording, Levels& positions, Reach& reach) {
    std::vector<Between> spans;
    for (std::size_t c = 0; c < positions.rows(); ++c) spans.push_back(reach.positions(c, recording));
    Percent stands = 0;
    for (std::size_t c = 0; c < spans.size();) {
        std::size_t end = c;
        while (end < spans.size() && spans[end].low <= stands && stands <= spans[end].high) ++end;
        if (end == c) std::tie(stands, end) = longest_stay(spans, c);
        for (; c < end; ++c) reach.set_position(c, recording, stands);
    }
}

}  // namespace

std::size_t count_moves(const Levels& positions) {
    std::size_t moves = 0;
    for (std::size_t c = 0; c < positions.rows(); ++c)
        for (std::size_t r = 0; r < positions.columns(); ++r)
            moves += positions.at(c, r) != (c == 0 ? 0 : positions.at(c - 1, r));
    return moves;
}

Levels fewest_moves(const Bounds& bounds, const Levels& given, Percent notch, Unneeded unneeded) {
    Levels recordings = given, positions(bounds.low.rows(), given.rows());
    Reach reach(bounds, positions, recordings, notch);
    for (std::size_t c = 0; c < positions.rows(); ++c)
        for (std::size_t r = 0; r < given.rows(); ++r) reach.set_position(c, r, reach.positions(c, r).high);
    std::size_t before = count_moves(positions) + 1;
    for (int round = 0; round < most_rounds && count_moves(positions) < before; ++round) {
        before = count_moves(positions);
        for (std::size_t r = 0; r < given.rows(); ++r) save_moves_of(r, positions, reach);
    }
    if (unneeded == Unneeded::stays) return positions;
    for (std::size_t c = 0; c < positions.rows(); ++c)
        for (std::size_t r = 0; r < given.rows(); ++r)
            if (reach.positions(c, r).low == 0) reach.set_position(c, r, 0);
    return positions;
}

}  // namespace tallow::desk::submasters
