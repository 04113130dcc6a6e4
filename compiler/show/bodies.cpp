#include "compiler/show/bodies.hpp"

#include <fmt/format.h>

namespace tallow::show {

std::vector<Index> BodyReader::read(Reader& line) {
    bool broken = false;
    const std::size_t place = line.place();
    selector_.bodies = true;
    const std::vector<Element> elements = selector_.evaluate(line, broken, true);
    selector_.bodies = false;
    if (!broken) line.expect_end();
    if (broken || line.muted()) return {};
    std::vector<Index> fixtures;
    for (const Element& e : elements) {
        if (e.cell != 0) {
            line.fault(Finding::unexpected, line.since(place),
                       fmt::format("a {} feeds whole fixtures, and `{}` is a part of one", what_,
                                   element_text(scope_.show, e)))
                .with_hint(
                    fmt::format("name the fixture: `{}`", fixture_text(scope_.show.fixtures[e.fixture])));
            return {};
        }
        const auto [at, fresh] = places_.try_emplace(e.fixture, line.since(place));
        if (fresh)
            fixtures.push_back(e.fixture);
        else
            line.fault(Finding::placed_twice, line.since(place),
                       fmt::format("`{}` is on a {} already", fixture_text(scope_.show.fixtures[e.fixture]),
                                   what_))
                .see(at->second, "here");
    }
    return fixtures;
}

}  // namespace tallow::show
