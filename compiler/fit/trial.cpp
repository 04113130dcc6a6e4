#include "compiler/fit/trial.hpp"

#include <fmt/format.h>
#include <sstream>

#include "compiler/lower/lower.hpp"
#include "compiler/show/load.hpp"
#include "compiler/show/resolve.hpp"

namespace tallow::fit {
namespace {

// The first error with its line; empty where there is none. A desk that the new patch leaves without fixtures
// is named elsewhere.
std::string first_error(const source::Sink& sink, const source::Sources& sources) {
    for (const source::Diagnostic& d : sink.sorted()) {
        if (source::info(d.finding).severity != source::Severity::error ||
            d.finding == source::Finding::desk_universe)
            continue;
        std::istringstream words{std::string(sources.line(d.where.file, d.where.begin))};
        std::string line;
        for (std::string word; words >> word;) line += (line.empty() ? "" : " ") + word;
        return fmt::format("`{}`: {}", line, d.message);
    }
    return "";
}

std::vector<Index> by_name(const show::Show& before, const show::Show& after) {
    std::map<std::pair<std::string, std::uint32_t>, Index> places;
    for (Index f = 0; f < after.fixtures.size(); ++f)
        places[{after.fixtures[f].name, after.fixtures[f].number}] = f;
    std::vector<Index> found;
    for (const show::Fixture& f : before.fixtures) found.push_back(places.at({f.name, f.number}));
    return found;
}

}  // namespace

Tester::Tester(const show::Show& show, track::Book& book, const source::Sources& sources)
    : show_(show), sources_(sources), files_(without_patch(sources)), roll_(lower::lower(show, book)) {
    const std::vector<History> histories = histories_of(roll_);
    for (Index f = 0; f < show.fixtures.size(); ++f)
        outputs_.push_back(outputs_of(show, roll_, histories, f));
}

Trial Tester::test(const Plan& plan, const std::vector<Slot>& at) const {
    const std::string main = sources_.path(1);
    const std::string patch = patch_text(show_, sources_, plan, at);
    const show::ReadFile read = [&](const std::string& path) -> runtime::Result<std::string> {
        const auto file = files_.find(path);
        if (file == files_.end()) return runtime::Status::failure("not a file of the show");
        return path == main ? file->second + "\n" + patch : file->second;
    };
    Trial trial;
    auto after = std::make_unique<Played>();
    source::Sink sink;
    const auto documents = show::load(main, read, after->sources, sink);
    if (!documents.ok()) return trial;
    after->show = show::resolve(*documents, after->sources, sink);
    trial.refused = first_error(sink, after->sources);
    if (!trial.refused.empty()) return trial;
    if (after->show.fixtures.size() != show_.fixtures.size()) return trial;
    trial.compiles = true;
    after->book = std::make_unique<track::Book>(after->show);
    after->roll = lower::lower(after->show, *after->book);
    after->histories = histories_of(after->roll);
    trial.of_before = by_name(show_, after->show);
    for (Index f = 0; f < show_.fixtures.size(); ++f) {
        const Index now = trial.of_before[f];
        const auto outputs = outputs_of(after->show, after->roll, after->histories, now);
        if (!same_light(outputs_[f], show_.mode_of(show_.fixtures[f]).cells, outputs,
                        after->show.mode_of(after->show.fixtures[now]).cells))
            trial.differs.push_back(f);
    }
    trial.after = std::move(after);
    return trial;
}

}  // namespace tallow::fit
