#include "compiler/cues/changes.hpp"

#include <algorithm>
#include <set>

#include "runtime/duration.hpp"

namespace tallow::cues {
namespace {

bool same(const ChangeGroup& a, const ChangeGroup& b) {
    return a.times == b.times && std::equal(a.aspects.begin(), a.aspects.end(), b.aspects.begin(),
                                            b.aspects.end(), [](const Aspect& x, const Aspect& y) {
                                                return x.what == y.what && x.words == y.words &&
                                                       x.levels == y.levels;
                                            });
}

}  // namespace

Changes::Changes(const Stage& stage) : stage_(stage), times_(stage.show.parameters.size()) {
    for (Index p = 0; p < stage.show.parameters.size(); ++p)
        was_.push_back({stage.tracker.at(p).level, stage.tracker.at(p).wave});
}

std::vector<ChangeGroup> Changes::take() {
    std::set<Index> fixtures;  // that the cue sets anything of
    for (const track::Change& change : stage_.tracker.changes()) {
        times_[change.parameter] = times_of(change);
        fixtures.insert(stage_.show.fixtures[stage_.show.parameters[change.parameter].fixture].leader);
    }
    std::vector<ChangeGroup> all;
    const auto add = [&](ChangeGroup group) {
        if (group.aspects.empty()) return;
        const auto at = std::find_if(all.begin(), all.end(), [&](const auto& g) { return same(g, group); });
        if (at == all.end())
            all.push_back(std::move(group));
        else
            at->elements.push_back(group.elements[0]);
    };
    for (const Index f : fixtures) {
        const std::uint16_t cells = stage_.show.mode_of(stage_.show.fixtures[f]).cells;
        std::vector<ChangeGroup> parts;
        for (std::uint16_t cell = 1; cell <= cells; ++cell) parts.push_back(of({f, cell}));
        ChangeGroup own = of({f, 0});
        // Cells that do the same are spoken of as their fixture, unless it does something of its own.
        if (own.aspects.empty() && !parts.empty() &&
            std::all_of(parts.begin(), parts.end(), [&](const auto& g) { return same(g, parts[0]); })) {
            own = std::move(parts[0]);
            own.elements = {{f, 0}};
            parts.clear();
        }
        add(std::move(own));
        for (ChangeGroup& part : parts) add(std::move(part));
    }
    for (const track::Change& change : stage_.tracker.changes()) {
        const track::Standing& now = stage_.tracker.at(change.parameter);
        was_[change.parameter] = {now.level, now.wave};
        times_[change.parameter].clear();
    }
    return all;
}

ChangeGroup Changes::of(Element element) const {
    ChangeGroup group{{element}, aspects(stage_, element), {}};
    std::erase_if(group.aspects, [&](const Aspect& aspect) {
        return std::none_of(aspect.parameters.begin(), aspect.parameters.end(), [&](Index p) {
            return aspect.what == "wave" ? stage_.tracker.at(p).wave != was_[p].wave
                                         : stage_.tracker.at(p).level != was_[p].level;
        });
    });
    add_ended(element, group.aspects);
    for (const Aspect& aspect : group.aspects)
        for (const Index p : aspect.parameters)
            for (const std::string& words : times_[p])
                if (std::find(group.times.begin(), group.times.end(), words) == group.times.end())
                    group.times.push_back(words);
    return group;
}

// A wave that ran on the element before and no longer does.
void Changes::add_ended(Element element, std::vector<Aspect>& to) const {
    const show::Fixture& fixture = stage_.show.fixtures[element.fixture];
    const auto& parameters = stage_.show.mode_of(fixture).parameters;
    for (std::size_t place = 0; place < parameters.size(); ++place) {
        const Index p = fixture.first_parameter + static_cast<Index>(place);
        if (parameters[place].cell != element.cell || was_[p].wave == show::none ||
            stage_.tracker.at(p).wave != show::none)
            continue;
        const std::string words = instance_name(stage_.show, stage_.tracker.waves()[was_[p].wave]) + " ends";
        const auto at = std::find_if(to.begin(), to.end(), [&](const auto& a) { return a.words == words; });
        if (at != to.end())
            at->parameters.push_back(p);
        else
            to.push_back(
                {"wave", words, {p}, {}, {stage_.tracker.at(p).statement, stage_.tracker.at(p).cue}});
    }
}

std::vector<std::string> Changes::times_of(const track::Change& change) const {
    const auto& timings = stage_.tracker.timings();
    const runtime::Timing& own = timings[change.timing];
    const runtime::Timing& header = timings[static_cast<std::size_t>(change.kind)];
    std::vector<std::string> words;
    if (own.up != header.up || own.down != header.down)
        words.push_back("fade " + runtime::format_duration(own.up));
    if (own.delay != header.delay) words.push_back("delay " + runtime::format_duration(own.delay));
    return words;
}

}  // namespace tallow::cues
