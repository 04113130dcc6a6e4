// `hang`: where fixtures are.
#include <algorithm>
#include <fmt/format.h>

#include "compiler/show/steps.hpp"
#include "compiler/text/decimal.hpp"

namespace tallow::show {
namespace {

constexpr std::int64_t farthest = 1000;  // metres, either way

std::optional<std::int64_t> read_metres(Reader& reader, std::string_view what) {
    return reader.measure(Unit::metre, what, "1.5m", -farthest, farthest);
}

void read_header(Reader& header, Hang& hang) {
    hang.label = read_label(header);
    bool height = false, depth = false;
    while (!header.at_end() && !header.muted()) {
        if (header.take(Word::height)) {
            header.once(height, "height");
            hang.height = read_metres(header, "a height").value_or(0);
        } else if (header.take(Word::depth)) {
            header.once(depth, "depth");
            hang.depth = read_metres(header, "a depth").value_or(0);
        } else {
            header.expected("`height 5m` or `depth 2m`");
        }
    }
}

// `-3m .. 3m` spread evenly over so many, or `-3m, -1m, 1.2m`; empty after a fault.
std::vector<std::int64_t> read_places(Reader& line, std::size_t bodies) {
    std::vector<std::int64_t> places;
    do {
        const auto x = read_metres(line, "a place along the bar");
        if (!x) return {};
        places.push_back(*x);
    } while (line.take(AtomKind::comma));
    if (places.size() > 1 || !line.take(AtomKind::dots)) return places;
    const auto last = read_metres(line, "a place along the bar");
    if (!last) return {};
    const std::int64_t first = places.front();
    const auto gaps = std::max<std::int64_t>(static_cast<std::int64_t>(bodies) - 1, 1);
    places.resize(bodies);
    for (std::size_t i = 0; i < bodies; ++i)
        places[i] = first + text::rounded((*last - first) * static_cast<std::int64_t>(i), gaps);
    return places;
}

class HangReader {
  public:
    HangReader(Scope& scope, Selector& selector) : scope_(scope), selector_(selector) {
        for (const Place& place : scope.declarations(Word::group)) {
            const Reader header = scope.header(place);
            if (header.next_is(AtomKind::word)) groups_.insert(header.name_text(*header.peek()));
        }
    }

    void read(const Place& place) {
        Reader header = scope_.header(place);
        const auto name = scope_.new_name(header, "the name of the bar or stand");
        if (!name) return;
        Hang hang;
        hang.name = *name;
        hang.span = header.last();
        read_header(header, hang);
        const auto index = static_cast<Index>(scope_.show.hangs.size());
        if (!scope_.declare(scope_.hangs, header, {Symbol::Kind::hang, index, hang.span, *name})) return;
        scope_.show.hangs.push_back(std::move(hang));
        scope_.each_line(place, [&](Reader& line) {
            read_line(line, index);
            line.expect_end();
        });
    }

  private:
    void read_line(Reader& line, Index hang) {
        if (line.next_is(AtomKind::word) && groups_.contains(line.name_text(*line.peek()))) {
            line.fault(Finding::unexpected, line.here(), "groups are not hung; the fixtures in them are")
                .with_hint("name them in the order in which they hang: `front 1..4  -3m .. 3m`");
            return;
        }
        const std::size_t place = line.place();
        bool broken = false;
        selector_.bodies = true;
        const std::vector<Element> bodies = selector_.evaluate(line, broken);
        selector_.bodies = false;
        if (broken) return line.mute();
        const Span selected = line.since(place);
        const std::vector<std::int64_t> places = read_places(line, bodies.size());
        if (line.muted()) return;
        if (places.size() != bodies.size()) {
            line.fault(Finding::bad_places, line.since(place),
                       fmt::format("fixtures: {}, places for them: {}", bodies.size(), places.size()))
                .with_hint("give each its place, `-3m, -1m, 2m`, or spread them evenly: `-3m .. 3m`");
            return;
        }
        for (std::size_t i = 0; i < bodies.size(); ++i) put(line, selected, bodies[i], hang, places[i]);
    }

    void put(Reader& line, Span selected, Element body, Index hang, std::int64_t x) {
        Fixture& fixture = scope_.show.fixtures[body.fixture];
        if (body.cell != 0)
            line.fault(Finding::unexpected, selected, "whole fixtures are hung, and their cells with them");
        if (fixture.hang != none) {
            line.fault(Finding::placed_twice, selected,
                       fmt::format("`{}` hangs on `{}` already", fixture_text(fixture),
                                   scope_.show.hangs[fixture.hang].name))
                .see(fixture.hung, "hung here");
            return;
        }
        fixture.hang = hang;
        fixture.x = x;
        fixture.hung = selected;
    }

    Scope& scope_;
    Selector& selector_;
    std::set<std::string, std::less<>> groups_;
};

}  // namespace

void resolve_hangs(Scope& scope, Selector& selector) {
    HangReader reader(scope, selector);
    for (const Place& place : scope.declarations(Word::hang)) reader.read(place);
}

}  // namespace tallow::show
