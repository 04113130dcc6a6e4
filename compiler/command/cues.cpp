#include <algorithm>
#include <fmt/format.h>

#include "compiler/command/commands.hpp"
#include "compiler/command/report.hpp"
#include "compiler/cues/cue_list.hpp"
#include "compiler/cues/picture.hpp"
#include "compiler/text/decimal.hpp"
#include "runtime/cue_number.hpp"
#include "runtime/files.hpp"

namespace tallow::command {
namespace {

using show::Index;

int print(const std::string& text) {
    const auto status = runtime::write_file("-", text);
    return status.ok() ? done : complain(status.why());
}

// The cue of this number; a failure names the nearest ones.
runtime::Result<Index> find_cue(const std::vector<show::Cue>& cues, const std::string& wanted) {
    const auto value = text::millionths(wanted);
    if (!value || *value < 0 || *value % 1000 != 0)
        return runtime::Status::failure(
            fmt::format("--cue: `{}` is no cue number; give one such as 7 or 2.5", wanted));
    const auto number = *value / 1000;
    const auto at = std::lower_bound(cues.begin(), cues.end(), number,
                                     [](const show::Cue& cue, std::int64_t n) { return cue.number < n; });
    if (at != cues.end() && at->number == number) return static_cast<Index>(at - cues.begin());
    std::string near;
    if (at != cues.begin()) near = fmt::format("`{}`", runtime::cue_number((at - 1)->number));
    if (at != cues.end())
        near += fmt::format("{}`{}`", near.empty() ? "" : " and ", runtime::cue_number(at->number));
    return runtime::Status::failure(
        near.empty() ? fmt::format("--cue: there is no cue `{}`; the show has no cues", wanted)
                     : fmt::format("--cue: there is no cue `{}`; the nearest: {}", wanted, near));
}

}  // namespace

int cues(const CuesOptions& options) {
    int exit = done;
    const auto c = compile_or_complain(options.show, exit);
    if (!c) return exit;
    const auto list = cues::list_cues(c->show, c->sources, *c->colours, std::nullopt);
    return print(options.json ? cues::json(c->show, c->sources, list) : cues::text(c->show, list));
}

int state(const StateOptions& options) {
    if (options.cue.empty() && options.fixture.empty())
        return complain(
            "say what to show: `--cue 7` for a cue's picture, `--fixture front` for all its changes");
    int exit = done;
    const auto c = compile_or_complain(options.show, exit, options.fixture);
    if (!c) return exit;
    if (!options.fixture.empty() && c->selected.empty())
        return complain("--fixture: no fixture is named; give one such as `front 3`");
    std::optional<std::vector<show::Element>> only;
    if (!options.fixture.empty()) only = c->selected;
    if (options.cue.empty()) {
        const auto list = cues::list_cues(c->show, c->sources, *c->colours, only);
        return print(options.json ? cues::json(c->show, c->sources, list)
                                  : cues::short_text(c->show, c->sources, list));
    }
    const auto cue = find_cue(c->show.cues, options.cue);
    if (!cue.ok()) return complain(cue.why());
    track::Tracker tracker(c->show, *c->colours, track::Origins::keep);
    for (Index i = 0; i <= *cue; ++i) tracker.next();
    const auto picture = cues::take_picture({c->show, c->sources, *c->colours, tracker}, only);
    return print(options.json ? cues::json(c->show, c->sources, picture)
                              : cues::text(c->show, c->sources, picture));
}

}  // namespace tallow::command
