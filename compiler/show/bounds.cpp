#include "compiler/show/bounds.hpp"

#include <fmt/format.h>

#include "compiler/show/value_count.hpp"
#include "runtime/limits.hpp"

namespace tallow::show {
namespace {

bool check_pictures(const Show& show, source::Sink& sink) {
    const std::uint64_t pictures = show.cues.size() / runtime::picture_every;
    if (pictures * show.parameters.size() <= picture_values) return true;
    sink.report(Finding::too_many, show.cues.back().span,
                fmt::format("a rig of {} parameters may have {} cues", show.parameters.size(),
                            (picture_values / show.parameters.size() + 1) * runtime::picture_every - 1));
    return false;
}

// Each list, submaster and chase is played on the whole rig by itself, and a list or submaster takes the
// chases along that it lets run.
bool check_players(const Show& show, source::Sink& sink) {
    const std::uint64_t hands = show.lists.size() + show.submasters.size();
    const std::uint64_t players = hands + show.chases.size();
    std::uint64_t steps = 0;
    for (const Chase& chase : show.chases) steps += chase_values(show, chase);
    std::string fault;
    if (players * show.parameters.size() > played_values)
        fault = fmt::format(
            "a rig of {} parameters may have {} lists, submasters and chases together, and there are {}",
            show.parameters.size(), played_values / show.parameters.size(), players);
    else if (hands * steps > runtime::limits::chase_levels)
        fault = fmt::format(
            "chases whose steps come to {} values leave room for {} lists and submasters together, and there "
            "are {}",
            steps, runtime::limits::chase_levels / steps, hands);
    if (fault.empty()) return true;
    sink.report(Finding::too_many,
                !show.submasters.empty() ? show.submasters.back().span
                : !show.chases.empty()   ? show.chases.back().span
                                         : show.lists.back().span,
                fault);
    return false;
}

bool check_set_values(const Show& show, source::Sink& sink) {
    ValueCount count(show);
    std::uint64_t values = 0;
    const auto fits = [&](std::uint64_t more, Span where) {
        values += more;
        if (values <= set_values) return true;
        sink.report(Finding::too_many, where,
                    fmt::format("the lines of all cues and submasters may set {} values in all", set_values));
        return false;
    };
    for (const Cue& cue : show.cues)
        if (!fits(count.of(cue), cue.span)) return false;
    for (const Submaster& submaster : show.submasters)
        if (!fits(count.of(submaster.items), submaster.span)) return false;
    return true;
}

}  // namespace

std::uint64_t chase_values(const Show& show, const Chase& chase) {
    std::uint64_t values = 0;
    for (const Element& e : show.selections[chase.selection].elements)
        values += show.mode_of(show.fixtures[e.fixture]).parameters.size();
    return values * chase.steps.size();
}

bool check_bounds(Scope& scope) {
    const bool pictures = check_pictures(scope.show, scope.sink);
    const bool players = check_players(scope.show, scope.sink);
    return check_set_values(scope.show, scope.sink) && pictures && players;
}

}  // namespace tallow::show
