#include <algorithm>
#include <fmt/format.h>
#include <span>

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
runtime::Result<Index> find_cue(const show::Show& show, Index list, const std::string& wanted) {
    const auto& [name, label, first, count, span] = show.lists[list];
    const auto cues = std::span(show.cues).subspan(first, count);
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
    const std::string in = show.lists.size() == 1 ? "" : fmt::format(" in the list `{}`", name);
    if (near.empty())
        return runtime::Status::failure(fmt::format("--cue: there is no cue `{}`{}, and {} has no cues{}",
                                                    wanted, in, in.empty() ? "the show" : "it",
                                                    in.empty() ? "" : "; choose another one with `--list`"));
    return runtime::Status::failure(
        fmt::format("--cue: there is no cue `{}`{}; the nearest: {}", wanted, in, near));
}

// The lists (by index) that an option names: all of them when it is empty.
runtime::Result<std::vector<Index>> find_lists(const show::Show& show, const std::string& wanted) {
    std::vector<Index> lists;
    std::string names;
    for (Index i = 0; i < show.lists.size(); ++i) {
        if (wanted.empty() || show.lists[i].name == wanted) lists.push_back(i);
        names += fmt::format("{}`{}`", names.empty() ? "" : ", ", show.lists[i].name);
    }
    if (!lists.empty()) return lists;
    return runtime::Status::failure(
        fmt::format("--list: there is no list `{}`; the show has {}", wanted, names));
}

std::vector<cues::ListedCue> cues_of(const Compilation& c, const std::vector<Index>& lists,
                                     const std::optional<std::vector<show::Element>>& only) {
    std::vector<cues::ListedCue> all;
    for (const Index list : lists)
        for (cues::ListedCue& cue : cues::list_cues(c.show, c.sources, *c.book, list, only))
            all.push_back(std::move(cue));
    return all;
}

// One cue's picture; a cue number is of the main list where no other is named.
int picture(const Compilation& c, Index list, const std::string& wanted,
            const std::optional<std::vector<show::Element>>& only, bool as_json) {
    const auto cue = find_cue(c.show, list, wanted);
    if (!cue.ok()) return complain(cue.why());
    track::Tracker tracker(c.show, *c.book, list, track::Origins::keep);
    for (Index i = 0; i <= *cue; ++i) tracker.next();
    const auto picture = cues::take_picture({c.show, c.sources, *c.book, tracker}, only);
    return print(as_json ? cues::json(c.show, c.sources, picture) : cues::text(c.show, c.sources, picture));
}

}  // namespace

int cues(const CuesOptions& options) {
    int exit = done;
    const auto c = compile_or_complain(options.show, exit);
    if (!c) return exit;
    const auto lists = find_lists(c->show, options.list);
    if (!lists.ok()) return complain(lists.why());
    const auto listed = cues_of(*c, *lists, std::nullopt);
    return print(options.json ? cues::json(c->show, c->sources, listed) : cues::text(c->show, listed));
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
    const auto lists = find_lists(c->show, options.list);
    if (!lists.ok()) return complain(lists.why());
    if (!options.cue.empty()) return picture(*c, lists->front(), options.cue, only, options.json);
    const auto listed = cues_of(*c, *lists, only);
    return print(options.json ? cues::json(c->show, c->sources, listed)
                              : cues::short_text(c->show, c->sources, listed));
}

}  // namespace tallow::command
