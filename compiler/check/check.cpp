#include "compiler/check/check.hpp"

#include <algorithm>
#include <fmt/format.h>
#include <map>
#include <span>

#include "compiler/check/fade_steps.hpp"
#include "compiler/show/elements.hpp"
#include "compiler/syntax/reader.hpp"
#include "compiler/text/counted.hpp"
#include "compiler/text/wrap.hpp"

namespace tallow::check {
namespace {

using show::Kind;
using text::counted;
using track::Tracker;

constexpr std::size_t columns = 80;

void survey_patch(const Show& show, Summary& summary) {
    for (const show::Fixture& f : show.fixtures) {
        if (f.type == show::none) continue;
        ++summary.fixtures;
        summary.universes.push_back(f.universe);
        const auto end = static_cast<std::uint16_t>(f.address + show.mode_of(f).footprint - 1);
        if (std::pair(f.universe, end) > std::pair(summary.last_universe, summary.last_slot)) {
            summary.last_universe = f.universe;
            summary.last_slot = end;
        }
    }
    std::sort(summary.universes.begin(), summary.universes.end());
    summary.universes.erase(std::unique(summary.universes.begin(), summary.universes.end()),
                            summary.universes.end());
}

// What shines at the end: a level of its own, and no master above it at 0.
void survey_end(const Show& show, const Tracker& tracker, Summary& summary) {
    const std::size_t before = summary.lit.size();  // of other lists
    for (Index p = 0; p < show.parameters.size(); ++p) {
        const show::ParameterDef& def = show.definition(p);
        if (tracker.is_chase(tracker.at(p).wave)) {
            const Index chase = tracker.waves()[tracker.at(p).wave].chase;
            if (std::find(summary.chasing.begin(), summary.chasing.end(), chase) == summary.chasing.end())
                summary.chasing.push_back(chase);
        }
        if (def.kind != Kind::intensity || tracker.at(p).level == 0) continue;
        const Index fixture = show.parameters[p].fixture;
        Index master = def.under == show::no_place ? p : show.fixtures[fixture].first_parameter + def.under;
        if (tracker.at(master).level == 0) continue;
        const Index cue = tracker.at(p).cue == show::none ? tracker.at(master).cue : tracker.at(p).cue;
        if (cue == show::none) continue;
        const runtime::Level level =
            runtime::scaled(tracker.at(p).level, master == p ? runtime::full : tracker.at(master).level);
        if (summary.lit.size() > before && summary.lit.back().fixture == fixture) {
            summary.lit.back().cue = std::max(summary.lit.back().cue, cue);
            summary.lit.back().level = std::max(summary.lit.back().level, level);
        } else {
            summary.lit.push_back({fixture, cue, level});
        }
    }
}

// What has a floor, and was not left higher by a cue; no master that may go down above it.
void survey_floors(const Show& show, const track::Floors& floors, Summary& summary) {
    std::map<Index, runtime::Level> kept;
    for (Index p = 0; floors.any() && p < show.parameters.size(); ++p) {
        const Index above = show.above(p);
        const runtime::Level level =
            runtime::scaled(floors.of(p), above == show::none ? runtime::full : floors.of(above));
        if (level == 0) continue;
        runtime::Level& highest = kept[show.parameters[p].fixture];
        highest = std::max(highest, level);
    }
    for (const StillLit& l : summary.lit)
        if (const auto at = kept.find(l.fixture); at != kept.end() && l.level >= at->second) kept.erase(at);
    std::erase_if(summary.lit, [&](const StillLit& l) { return kept.contains(l.fixture); });
    for (const auto& [fixture, level] : kept) summary.lit.push_back({fixture, show::none, level});
}

// Chases and submasters show colours too, whether a cue speaks of them or not.
void ask_for_colours(const Show& show, track::Book& book, std::set<HueTurn>& hues) {
    for (Index chase = 0; chase < show.chases.size(); ++chase) book.chase(chase);
    for (const show::Submaster& submaster : show.submasters) {
        const std::vector<show::Cue> alone{track::cue_of(submaster.items)};
        Tracker tracker(show, book, alone);
        tracker.next();
        ask_for_wave_colours(show, tracker, book, hues);
    }
}

// What lines of palettes say of single fixtures is no palette of its own.
std::size_t named_palettes(const Show& show) {
    return static_cast<std::size_t>(std::count_if(show.palettes.begin(), show.palettes.end(),
                                                  [](const show::Palette& p) { return !p.of_fixtures; }));
}

// `1, 2, 5`; a long list is cut.
template <class List, class Text>
std::string listed(const List& list, Text text, std::string_view separator = ", ") {
    constexpr std::size_t shown = 12;
    std::string out;
    for (std::size_t i = 0; i < list.size() && i < shown; ++i)
        out += std::string(i == 0 ? "" : separator) + text(list[i]);
    return list.size() > shown ? out + fmt::format(" and {} more", list.size() - shown) : out;
}

// `front 1, 3 60%, cyc 1..2 40%`: fixtures of one level together, the first of them first.
std::string levels_text(std::span<const StillLit> lit, const Show& show) {
    std::vector<std::pair<runtime::Level, std::vector<show::Element>>> groups;
    for (const StillLit& l : lit) {
        auto group =
            std::find_if(groups.begin(), groups.end(), [&](const auto& g) { return g.first == l.level; });
        if (group == groups.end()) group = groups.insert(groups.end(), {l.level, {}});
        group->second.push_back({l.fixture, 0});
    }
    return listed(
        groups,
        [&](const auto& group) {
            return fmt::format("{} {}", show::elements_text(show, group.second),
                               syntax::percent_text(group.first));
        },
        "; ");
}

// `    since cue 2: front 1..3 60%`: for each cue, of many for the latest.
std::string render_lit(const std::vector<StillLit>& lit, const Show& show) {
    constexpr std::size_t cues_shown = 12;
    std::vector<std::string> cues;
    for (auto first = lit.begin(); first != lit.end();) {
        const auto last =
            std::find_if(first, lit.end(), [&](const StillLit& l) { return l.cue != first->cue; });
        cues.push_back(fmt::format(
            "{}: {}",
            first->cue == show::none ? "kept always" : "since cue " + show::cue_text(show, first->cue),
            levels_text({first, last}, show)));
        first = last;
    }
    const std::size_t left_out = cues.size() > cues_shown ? cues.size() - cues_shown : 0;
    std::string out;
    for (std::size_t i = left_out; i < cues.size(); ++i) out += text::indented(cues[i], 4, columns);
    return left_out == 0 ? out
                         : out + fmt::format("    and since {} before these\n", counted(left_out, "cue"));
}

}  // namespace

Summary check(const Show& show, track::Book& book, source::Sink& sink) {
    Summary summary;
    survey_patch(show, summary);
    const std::vector<Index> colouring = colouring_lists(show, book);
    FadeSteps fades(show);
    std::set<HueTurn> hues;
    for (Index list = 0; list < show.lists.size(); ++list) {
        Tracker tracker(show, book, list);
        fades.begin_list();
        bool by_itself = false;
        while (tracker.next()) {
            check_lit(show, tracker, colouring, sink);
            fades.look(tracker);
            if (by_itself || tracker.cue().timecode != runtime::no_timecode)
                summary.automatic.push_back(tracker.index());
            by_itself = tracker.cue().next != runtime::Next::go;
        }
        survey_end(show, tracker, summary);
        ask_for_wave_colours(show, tracker, book, hues);
    }
    survey_floors(show, book.floors, summary);
    std::stable_sort(summary.lit.begin(), summary.lit.end(),
                     [](const StillLit& a, const StillLit& b) { return a.cue < b.cue; });
    ask_for_colours(show, book, hues);
    check_panic(show, book, sink);
    check_gamut(show, book.colours, hues, sink);
    summary.typical = typical_uses(show, book.colours, hues);
    fades.report(sink);
    return summary;
}

std::string render(const Summary& summary, const Show& show) {
    std::string out = counted(summary.fixtures, "fixture");
    if (summary.fixtures > 0)
        out += fmt::format(" in {} {}; the last slot taken is {}/{}",
                           summary.universes.size() == 1 ? "universe" : "universes",
                           listed(summary.universes, [](std::uint16_t u) { return std::to_string(u); }),
                           summary.last_universe, summary.last_slot);
    out += fmt::format("\n{}{}, {}, {}, {}{}{}\n", counted(show.cues.size(), "cue"),
                       show.lists.size() > 1 ? fmt::format(" in {} lists", show.lists.size()) : "",
                       counted(show.looks.size(), "look"), counted(named_palettes(show), "palette"),
                       counted(show.waves.size(), "wave"),
                       show.chases.empty() ? "" : ", " + counted(show.chases.size(), "chase"),
                       show.submasters.empty() ? "" : ", " + counted(show.submasters.size(), "submaster"));
    if (!show.cues.empty())
        out += summary.automatic.empty()
                   ? std::string("no cue starts by itself\n")
                   : fmt::format("by themselves start: {}\n",
                                 listed(summary.automatic, [&](Index c) { return show::cue_text(show, c); }));
    if (!summary.typical.empty())
        out += "colours rest on typical emitters, not measured ones:\n" + render(summary.typical, show);
    if (!show.cues.empty() && summary.lit.empty() && summary.chasing.empty())
        out += "at the end everything is dark\n";
    if (!summary.chasing.empty())
        out += fmt::format("still running at the end: {}\n",
                           listed(summary.chasing, [&](Index c) { return "chase " + show.chases[c].name; }));
    if (!summary.lit.empty()) out += "still lit at the end:\n" + render_lit(summary.lit, show);
    return out;
}

}  // namespace tallow::check
