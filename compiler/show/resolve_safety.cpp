// `safety`.
#include <algorithm>
#include <fmt/format.h>
#include <utility>

#include "compiler/show/bounds.hpp"
#include "compiler/show/steps.hpp"
#include "compiler/show/value_count.hpp"

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

// `panic look NAME`
void read_panic(Scope& scope, StatementReader& statements, Reader& line) {
    if (!line.next_is(Word::look)) {
        line.expected("`look` and the name of a look");
        return;
    }
    const auto item = statements.read(line);
    if (!item) return;
    scope.show.safety.panic = item;
    if (ValueCount(scope.show).of({*item}) > set_values) return;  // check_bounds tells
    const std::string_view moving = foreign_in(scope.show, *item, moving_in);
    if (moving.empty()) return;
    const Look& look = scope.show.looks[item->look];
    line.fault(Finding::unexpected, item->span, fmt::format("the panic look cannot hold {}", moving))
        .with_hint("it is there at once and stands still: give it a look of levels, colours and other values")
        .see(look.span, fmt::format("the look `{}`", look.name));
}

}  // namespace

void resolve_safety(Scope& scope, StatementReader& statements) {
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
        bool flashes = false, panic = false;
        scope.each_line(place, [&](Reader& line) {
            if (line.take(Word::flashes)) {
                if (flashes) line.fault(Finding::repeated_word, line.last(), "`flashes` is said twice");
                read_flashes(scope, line);
                flashes = flashes || !line.muted();
            } else if (line.take(Word::keep)) {
                read_keep(scope, statements.selector(), line);
            } else if (line.take(Word::panic)) {
                if (panic) line.fault(Finding::repeated_word, line.last(), "`panic` is said twice");
                read_panic(scope, statements, line);
                panic = panic || !line.muted();
            } else {
                line.expected("`flashes 3 per second`, `keep house above 10%` or `panic look aisles`");
            }
            line.expect_end();
        });
    }
}

}  // namespace tallow::show
