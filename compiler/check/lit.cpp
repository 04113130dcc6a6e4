// Light that comes up otherwise than its author may have meant: without a colour, or with a wave over
// darkness.
#include <fmt/format.h>

#include "compiler/check/check.hpp"

namespace tallow::check {
namespace {

using show::Kind;
using source::Finding;
using track::Change;
using track::Tracker;

bool puts_on_wave(const Show& show, Index statement) {
    const show::Statement& s = show.statements[statement];
    for (Index i = 0; i < s.setting_count; ++i)
        if (show.settings[s.first_setting + i].kind == show::Setting::Kind::wave) return true;
    return false;
}

bool runs_chase(const Show& show, Index statement) {
    return show.settings[show.statements[statement].first_setting].kind == show::Setting::Kind::chase;
}

std::string line_text(const Show& show, Index statement) {
    return show.selections[show.statements[statement].selection].text;
}

}  // namespace

bool over_uncoloured(const Show& show, const Tracker& tracker, const std::vector<Index>& colouring,
                     Index intensity) {
    const show::Fixture& fixture = show.fixtures[show.parameters[intensity].fixture];
    const auto& parameters = show.mode_of(fixture).parameters;
    const std::uint16_t place = show.parameters[intensity].place;
    for (Index p = 0; p < parameters.size(); ++p) {
        if (parameters[p].kind != Kind::colour || parameters[p].home == 0)
            continue;  // 0: no light of its own
        const std::uint16_t under = parameters[p].under;
        const bool stands_under =
            under == place || (under != show::no_place && parameters[under].under == place);
        const Index parameter = fixture.first_parameter + p;
        const Index list = colouring.empty() ? show::none : colouring[parameter];
        const bool elsewhere = list != show::none && list != tracker.cue().list;
        if (stands_under && !tracker.stands_for(parameter) && !elsewhere) return true;
    }
    return false;
}

// One list alone needs no look at others.
std::vector<Index> colouring_lists(const Show& show, track::Book& book) {
    if (show.lists.size() == 1) return {};
    std::vector<Index> lists(show.parameters.size(), show::none);
    for (Index list = 0; list < show.lists.size(); ++list) {
        Tracker tracker(show, book, list);
        while (tracker.next())
            for (const Change& change : tracker.changes()) {
                Index& known = lists[change.parameter];
                if (change.kind != Kind::colour || !tracker.stands_for(change.parameter)) continue;
                known = known == show::none || known == list ? list : several;
            }
    }
    return lists;
}

void check_lit(const Show& show, const Tracker& tracker, const std::vector<Index>& colouring,
               source::Sink& sink) {
    Index told = show::none;  // the statement that was warned about last
    struct Waved {
        Index statement = show::none;
        bool any_lit = false;
    } waved;
    const auto close_wave = [&] {
        if (waved.statement != show::none && !waved.any_lit)
            sink.report(Finding::wave_over_nothing, show.statements[waved.statement].span,
                        fmt::format("the wave scales a level, and the level of `{}` is 0 here",
                                    line_text(show, waved.statement)))
                .with_hint(fmt::format("give it one: `{} 60%`", line_text(show, waved.statement)));
    };
    for (const Change& change : tracker.changes()) {
        if (change.kind != Kind::intensity || change.statement == show::none) continue;
        const track::Standing& standing = tracker.at(change.parameter);
        const bool lit = standing.level > 0 || tracker.is_chase(standing.wave);
        if (standing.wave != show::none && puts_on_wave(show, change.statement)) {
            if (waved.statement != change.statement) {
                close_wave();
                waved = {change.statement, false};
            }
            waved.any_lit = waved.any_lit || lit;
        }
        if (!lit || change.statement == told || tracker.uncoloured() == 0) continue;
        const Index fixture = show.parameters[change.parameter].fixture;
        if (tracker.uncoloured(fixture) == 0 || !over_uncoloured(show, tracker, colouring, change.parameter))
            continue;
        told = change.statement;
        sink.report(Finding::no_colour_yet, show.statements[told].span,
                    fmt::format(
                        "`{}` comes up in cue {} and was given no colour yet: every emitter is at full",
                        show::fixture_text(show.fixtures[fixture]), show::cue_text(show, tracker.index())))
            .with_hint(
                runs_chase(show, told)
                    ? std::string("name a colour beside the levels in the steps of the chase")
                    : fmt::format("name a colour beside the level: `{} 3200K 60%`", line_text(show, told)));
    }
    close_wave();
}

}  // namespace tallow::check
