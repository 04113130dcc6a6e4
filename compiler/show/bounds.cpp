#include "compiler/show/bounds.hpp"

#include <algorithm>
#include <fmt/format.h>
#include <map>
#include <set>
#include <tuple>
#include <utility>

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
    // At the last of those that there are most of.
    const std::size_t most = std::max({show.lists.size(), show.submasters.size(), show.chases.size()});
    sink.report(Finding::too_many,
                most == show.submasters.size() ? show.submasters.back().span
                : most == show.chases.size()   ? show.chases.back().span
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
        sink.report(
            Finding::too_many, where,
            fmt::format("the lines of all cues, of submasters and of the panic look may set {} values in all",
                        set_values));
        return false;
    };
    for (const Cue& cue : show.cues)
        if (!fits(count.of(cue), cue.span)) return false;
    for (const Submaster& submaster : show.submasters)
        if (!fits(count.of(submaster.items), submaster.span)) return false;
    if (show.safety.panic && !fits(count.of({*show.safety.panic}), show.safety.panic->span)) return false;
    return true;
}

// Parts of looks, played or not, are gone through line by line.
bool check_parts(const Scope& scope) {
    ValueCount count(scope.show);
    std::uint64_t values = 0;
    for (const Item& part : scope.look_parts) {
        values += count.of({part});
        if (values <= set_values) continue;
        scope.sink.report(Finding::too_many, part.span,
                          fmt::format("the parts of looks may set {} values in all", set_values));
        return false;
    }
    return true;
}

// A wave that turns the hue has a waveform of its own for each emitter, for each swing and kind of fixtures.
bool check_hues(const Show& show, source::Sink& sink) {
    using Kind = std::pair<Index, Index>;   // type and balanced group
    std::map<Index, std::set<Kind>> kinds;  // by selection
    std::set<std::tuple<Index, std::int64_t, Kind>> turned;
    std::uint64_t segments = 0;
    for (const Statement& line : show.statements)
        for (Index s = line.first_setting; s < line.first_setting + line.setting_count; ++s) {
            if (show.settings[s].kind != Setting::Kind::wave) continue;
            const WaveUse& use = show.wave_uses[show.settings[s].what];
            const auto& components = show.waves[use.wave].components;
            if (std::none_of(components.begin(), components.end(), [](const Component& c) { return c.hue; }))
                continue;
            const auto [known, fresh] = kinds.try_emplace(line.selection);
            if (fresh)
                for (const Element& e : show.selections[line.selection].elements)
                    known->second.insert({show.fixtures[e.fixture].type, show.fixtures[e.fixture].balance});
            for (const Kind& kind : known->second) {
                if (!turned.insert({use.wave, use.shape.swing, kind}).second) continue;
                segments += runtime::limits::wave_points * show.types[kind.first].emitters.size();
                if (segments <= hue_segments) continue;
                sink.report(
                    Finding::too_many, line.span,
                    fmt::format("all waves that turn the hue may come to {} pieces: {} for each emitter "
                                "of a type and each `swing`",
                                hue_segments, runtime::limits::wave_points));
                return false;
            }
        }
    return true;
}

bool check_responses(const Show& show, source::Sink& sink) {
    std::set<Response> different;
    for (const Fixture& fixture : show.fixtures) {
        if (fixture.response == none) continue;
        different.insert(show.responses[fixture.response]);
        if (different.size() <= responses_at_most) continue;
        sink.report(Finding::too_many, fixture.span,
                    fmt::format("the fixtures of a show may have {} different responses", responses_at_most));
        return false;
    }
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
    const bool values = check_set_values(scope.show, scope.sink);
    const bool parts = values && check_parts(scope);
    const bool hues = check_hues(scope.show, scope.sink);
    const bool responses = check_responses(scope.show, scope.sink);
    return pictures && players && parts && hues && responses;
}

}  // namespace tallow::show
