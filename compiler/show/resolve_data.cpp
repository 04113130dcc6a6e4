// `data`: the daisy chains that bring data to the fixtures.
#include "compiler/show/bodies.hpp"
#include "compiler/show/steps.hpp"
#include "compiler/show/values.hpp"

namespace tallow::show {
namespace {

class RunReader {
  public:
    RunReader(BodyReader& bodies, DataRun& run) : bodies_(bodies), run_(run) {}

    void read_header(Reader& header) {
        run_.label = read_label(header);
        if (header.take(Word::from)) {
            if (const auto pins = read_pins(header))
                run_.outlet = *pins;
            else
                header.expected("`3-pin` or `5-pin`");
        }
        header.expect_end();
    }

    void read_line(Reader& line) {
        if (line.take(Word::wireless)) {
            line.expect_end();
            if (hop_)
                line.fault(Finding::repeated_word, line.last(), "two radio hops with no fixture between them")
                    .with_hint("keep one of them");
            hop_ = line.last();
            return;
        }
        for (const Index fixture : bodies_.read(line)) {
            run_.chain.push_back({fixture, hop_.has_value()});
            hop_.reset();
        }
        if (line.muted()) hop_.reset();  // what it led to is not known
    }

    void finish(Reader& header) {
        if (hop_)
            header.fault(Finding::expected, *hop_, "a radio hop leads to no fixture")
                .with_hint("name what it reaches on the line below");
    }

  private:
    BodyReader& bodies_;
    DataRun& run_;
    std::optional<Span> hop_;  // a radio hop that no fixture has followed yet
};

}  // namespace

void resolve_data(Scope& scope, Selector& selector) {
    BodyReader bodies(scope, selector, "data run");
    for (const Place& place : scope.declarations(Word::data)) {
        Reader header = scope.header(place);
        DataRun run;
        const auto name = scope.new_name(header, "the name of the data run");
        run.name = name.value_or("");
        run.span = header.last();
        RunReader reader(bodies, run);
        reader.read_header(header);
        scope.each_line(place, [&](Reader& line) { reader.read_line(line); });
        reader.finish(header);
        const auto index = static_cast<Index>(scope.show.data_runs.size());
        if (name && scope.declare(scope.data_runs, header, {Symbol::Kind::data_run, index, run.span, *name}))
            scope.show.data_runs.push_back(std::move(run));
    }
}

}  // namespace tallow::show
