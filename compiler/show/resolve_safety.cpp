// `safety`.
#include <algorithm>
#include <fmt/format.h>
#include <utility>

#include "compiler/show/steps.hpp"

namespace tallow::show {
namespace {

constexpr std::uint32_t most_flashes = 100;

// `flashes 3 per second`
void read_flashes(Scope& scope, Reader& line) {
    const auto count = line.count("how many flashes", 1, most_flashes);
    if (!count) return;
    if (!line.take(Word::per) || !line.take(Word::second)) {
        line.expected("`per second`");
        return;
    }
    scope.show.safety.flashes = *count;
}

// `keep SELECTION above LEVEL`
void read_keep(Scope& scope, Selector& selector, Reader& line) {
    const std::size_t place = line.place() - 1;
    Keep keep;
    keep.selection = selector.read(line);
    if (keep.selection == none) return;
    if (!line.take(Word::above)) {
        line.expected("`above` and a level");
        return;
    }
    keep.level = line.level().value_or(0);
    keep.span = line.since(place);
    const Selection& selection = scope.show.selections[keep.selection];
    const auto has_intensity = [&](const Element& e) {
        return !scope.show.mode_of(scope.show.fixtures[e.fixture]).parts[e.cell].intensity.empty();
    };
    if (!selection.elements.empty() &&
        std::none_of(selection.elements.begin(), selection.elements.end(), has_intensity))
        line.fault(Finding::cannot_take, keep.span, fmt::format("`{}` has no intensity", selection.text));
    if (!line.muted() && !selection.broken) scope.show.safety.keeps.push_back(keep);
}

}  // namespace

void resolve_safety(Scope& scope, Selector& selector) {
    const std::vector<Place> places = scope.declarations(Word::safety);
    for (const Place& place : places) {
        Reader header = scope.header(place);
        if (&place != &places.front()) {
            Reader first = scope.reader(*places.front().document, places.front().header());
            header.fault(Finding::name_taken, header.last(), "a show has one `safety`")
                .with_hint("put the lines of both together")
                .see(first.here(), "it is here already");
        }
        header.expect_end();
        bool flashes = false;
        scope.each_line(place, [&](Reader& line) {
            if (line.take(Word::flashes)) {
                if (flashes) line.fault(Finding::repeated_word, line.last(), "`flashes` is said twice");
                read_flashes(scope, line);
                flashes = flashes || !line.muted();
            } else if (line.take(Word::keep)) {
                read_keep(scope, selector, line);
            } else {
                line.expected("`flashes 3 per second` or `keep house above 10%`");
            }
            line.expect_end();
        });
    }
}

}  // namespace tallow::show
