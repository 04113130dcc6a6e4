#include "compiler/fit/clusters.hpp"

#include <algorithm>
#include <utility>

#include "compiler/fit/scenes.hpp"

namespace tallow::fit {
namespace {

constexpr std::size_t most_compared = 48;
constexpr double unlike =
    0.001;  // of two that are equal when all is settled, and were not ganged without loss

// A cluster is the row of all its members.
using Cluster = Row;

double difference(const Cluster& a, const Cluster& b) {
    float most = 0;
    for (std::size_t i = 0; i < a.low.size(); ++i)
        most = std::max(most, std::max(a.high[i], b.high[i]) - std::min(a.low[i], b.low[i]));
    return std::max(unlike, static_cast<double>(most));
}

void take_in(Cluster& into, const Cluster& other) {
    for (std::size_t i = 0; i < into.low.size(); ++i) {
        into.low[i] = std::min(into.low[i], other.low[i]);
        into.high[i] = std::max(into.high[i], other.high[i]);
    }
}

// What may be joined: each by one of its members, the first before the second.
std::vector<Merge> links_of(const std::vector<Cluster>& clusters) {
    const bool all = clusters.size() <= most_compared;
    std::vector<Merge> links;
    for (std::size_t a = 0; a + 1 < clusters.size(); ++a)
        for (std::size_t b = a + 1; b < (all ? clusters.size() : a + 2); ++b)
            links.push_back({a, b, difference(clusters[a], clusters[b])});
    return links;
}

// The cluster `gone` is a part of `into` from now on.
void hand_over(std::vector<Merge>& links, std::size_t gone, std::size_t into) {
    for (Merge& link : links) {
        if (link.first == gone) link.first = into;
        if (link.second == gone) link.second = into;
        if (link.first > link.second) std::swap(link.first, link.second);
    }
    std::erase_if(links, [](const Merge& link) { return link.first == link.second; });
    const auto ends = [](const Merge& link) { return std::pair(link.first, link.second); };
    std::sort(links.begin(), links.end(), [&](const Merge& a, const Merge& b) { return ends(a) < ends(b); });
    links.erase(std::unique(links.begin(), links.end(),
                            [&](const Merge& a, const Merge& b) { return ends(a) == ends(b); }),
                links.end());
}

}  // namespace

Rows::Rows(const Tester& tester) : rows_(tester.show().fixtures.size()) {
    Scenes scenes(tester.roll());
    while (scenes.next())
        for (Index f = 0; f < rows_.size(); ++f)
            for (const Output& output : tester.outputs(f)) {
                rows_[f].low.push_back(static_cast<float>(scenes.low(output)));
                rows_[f].high.push_back(static_cast<float>(scenes.high(output)));
            }
}

std::vector<Row> Rows::of(const std::vector<Index>& fixtures) const {
    std::vector<Row> rows;
    for (const Index f : fixtures) rows.push_back(rows_[f]);
    return rows;
}

std::vector<Merge> merges(const std::vector<Row>& members) {
    std::vector<Cluster> clusters = members;
    std::vector<Merge> links = links_of(clusters), merges;
    while (!links.empty()) {
        const Merge nearest =
            *std::min_element(links.begin(), links.end(),
                              [](const Merge& a, const Merge& b) { return a.difference < b.difference; });
        merges.push_back(nearest);
        take_in(clusters[nearest.first], clusters[nearest.second]);
        hand_over(links, nearest.second, nearest.first);
        for (Merge& link : links)
            if (link.first == nearest.first || link.second == nearest.first)
                link.difference = difference(clusters[link.first], clusters[link.second]);
    }
    return merges;
}

}  // namespace tallow::fit
