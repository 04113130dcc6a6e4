// `circuit`: what feeds which fixtures with power.
#include <algorithm>
#include <fmt/format.h>

#include "compiler/show/bodies.hpp"
#include "compiler/show/steps.hpp"

namespace tallow::show {
namespace {

// `constant 16A 230V`, in any order, each once.
void read_ratings(Reader& reader, Circuit& circuit) {
    while (!reader.at_end() && !reader.muted()) {
        const bool constant = reader.next_is(Word::constant), dimmed = reader.next_is(Word::dimmed);
        const Unit unit = reader.peek()->unit();
        const bool twice = constant || dimmed     ? circuit.supply != Supply::unsaid
                           : unit == Unit::ampere ? circuit.amperes != 0
                                                  : unit == Unit::volt && circuit.volts != 0;
        if (twice) {
            reader
                .fault(Finding::repeated_word, reader.here(),
                       "a circuit has one supply, one current and one voltage")
                .with_hint("keep one of them");
        } else if (constant || dimmed) {
            reader.take();
            circuit.supply = constant ? Supply::constant : Supply::dimmed;
        } else if (unit == Unit::volt) {
            circuit.volts = reader.measure(Unit::volt, "a voltage", "230V", 1, 1000).value_or(0);
        } else if (reader.next_is(AtomKind::number)) {
            circuit.amperes = reader.measure(Unit::ampere, "a current", "16A", 1, 1000).value_or(0);
        } else {
            reader.expected("`constant` or `dimmed`, a current such as `16A` and a voltage such as `230V`");
        }
    }
}

}  // namespace

void resolve_power(Scope& scope, Selector& selector) {
    BodyReader bodies(scope, selector, "circuit");
    std::vector<Circuit>& circuits = scope.show.circuits;
    std::unordered_map<std::uint32_t, Span> numbers;
    for (const Place& place : scope.declarations(Word::circuit)) {
        Reader header = scope.header(place);
        Circuit circuit;
        const auto number = header.count("the number of the circuit", 1, 99'999);
        circuit.span = header.last();
        circuit.label = read_label(header);
        read_ratings(header, circuit);
        scope.each_line(place, [&](Reader& line) {
            const std::vector<Index> row = bodies.read(line);
            circuit.fixtures.insert(circuit.fixtures.end(), row.begin(), row.end());
        });
        if (!number) continue;
        circuit.number = *number;
        const auto [at, fresh] = numbers.try_emplace(*number, circuit.span);
        if (fresh)
            circuits.push_back(std::move(circuit));
        else
            header
                .fault(Finding::name_taken, circuit.span,
                       fmt::format("there is a circuit {} already", *number))
                .see(at->second, "here");
    }
    std::sort(circuits.begin(), circuits.end(),
              [](const Circuit& a, const Circuit& b) { return a.number < b.number; });
}

}  // namespace tallow::show
