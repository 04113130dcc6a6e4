// The panic look: light that has to be seen, whatever the show does just then.
#include <fmt/format.h>

#include "compiler/check/check.hpp"

namespace tallow::check {
namespace {

using show::Kind;
using source::Finding;
using track::Tracker;

// A level of its own, and no intensity above it that the look leaves at 0.
bool shines(const Show& show, const Tracker& tracker, Index intensity) {
    for (Index p = intensity; p != show::none; p = show.above(p))
        if (tracker.at(p).level == 0) return false;
    return true;
}

void report_colourless(const Show& show, Index parameter, Index statement, source::Sink& sink) {
    const show::Statement& line = show.statements[statement];
    sink.report(Finding::no_colour_yet, line.span,
                fmt::format("`{}` comes up in the panic look in whatever colour it has just then",
                            show::fixture_text(show.fixtures[show.parameters[parameter].fixture])))
        .with_hint(fmt::format("name a colour beside the level: `{} 3200K 60%`",
                               show.selections[line.selection].text));
}

}  // namespace

void check_panic(const Show& show, track::Book& book, source::Sink& sink) {
    if (!show.safety.panic) return;
    const std::vector<show::Cue> alone{track::cue_of({*show.safety.panic})};
    Tracker tracker(show, book, alone);
    tracker.next();
    bool any = false;
    Index told = show::none;  // the statement that was warned about last
    for (const track::Change& change : tracker.changes()) {
        if (change.kind != Kind::intensity || !shines(show, tracker, change.parameter)) continue;
        any = true;
        if (change.statement == told || !over_uncoloured(show, tracker, {}, change.parameter)) continue;
        told = change.statement;
        report_colourless(show, change.parameter, told, sink);
    }
    if (any) return;
    const show::Look& look = show.looks[show.safety.panic->look];
    sink.report(Finding::no_light, show.safety.panic->span,
                fmt::format("the panic look `{}` lights nothing", look.name))
        .with_hint("give fixtures in it a level; cells light up only where the look raises the fixture too")
        .see(look.span, "declared here");
}

}  // namespace tallow::check
