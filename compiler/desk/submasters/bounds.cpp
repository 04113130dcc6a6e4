#include "compiler/desk/submasters/bounds.hpp"

#include <map>
#include <utility>

namespace tallow::desk::submasters {
namespace {

// One row of both sides, or one column.
std::vector<Percent> line(const Bounds& b, bool row, std::size_t i) {
    std::vector<Percent> all;
    const std::size_t length = row ? b.low.columns() : b.low.rows();
    all.reserve(2 * length);
    for (const Levels* side : {&b.low, &b.high})
        for (std::size_t k = 0; k < length; ++k) all.push_back(row ? side->at(i, k) : side->at(k, i));
    return all;
}

// The first of each kind of line that asks for something, and where each line went.
std::vector<std::size_t> kinds(const Bounds& b, bool rows, std::vector<std::size_t>& place) {
    std::vector<std::size_t> first;
    std::map<std::vector<Percent>, std::size_t> known;
    for (std::size_t i = 0; i < (rows ? b.low.rows() : b.low.columns()); ++i) {
        const std::vector<Percent> here = line(b, rows, i);
        const auto lows_end = here.begin() + static_cast<std::ptrdiff_t>(here.size() / 2);
        if (std::all_of(here.begin(), lows_end, [](Percent low) { return low == 0; })) {
            place.push_back(nowhere);
            continue;
        }
        const auto [at, fresh] = known.try_emplace(here, first.size());
        if (fresh) first.push_back(i);
        place.push_back(at->second);
    }
    return first;
}

}  // namespace

Bounds bounds_around(const Levels& wanted, Percent tolerance) {
    Bounds b{wanted, wanted};
    for (std::size_t i = 0; i < wanted.rows(); ++i) {
        for (std::size_t j = 0; j < wanted.columns(); ++j) {
            b.low.at(i, j) = std::max(wanted.at(i, j) - tolerance, Percent{0});
            b.high.at(i, j) = std::min(wanted.at(i, j) + tolerance, all_of_it);
        }
    }
    return b;
}

Reduced reduced(const Bounds& bounds) {
    Reduced r;
    r.cue = kinds(bounds, true, r.row);
    r.channel = kinds(bounds, false, r.column);
    r.bounds = {Levels(r.cue.size(), r.channel.size()), Levels(r.cue.size(), r.channel.size())};
    for (std::size_t i = 0; i < r.cue.size(); ++i) {
        for (std::size_t j = 0; j < r.channel.size(); ++j) {
            r.bounds.low.at(i, j) = bounds.low.at(r.cue[i], r.channel[j]);
            r.bounds.high.at(i, j) = bounds.high.at(r.cue[i], r.channel[j]);
        }
    }
    return r;
}

}  // namespace tallow::desk::submasters
