#include "compiler/track/tracker.hpp"

#include <algorithm>

#include "compiler/show/statements.hpp"

namespace tallow::track {

using show::Element;
using show::Kind;
using show::Setting;
using show::Statement;
using show::Times;

namespace {

// Whether a level lies in a range without a scale.
bool level_jumps(const show::Type& type, Index attribute, Level level) {
    if (type.ranges.empty()) return false;
    show::Value value;
    value.level = level;
    bool jumps = false;
    level_of(type, attribute, value, jumps);
    return jumps;
}

// A line's own fade and delay replace the header's for all that the line does.
Times times_of(const Times& header, const Statement& line) {
    Times t = header;
    if (line.fade) t.up = t.down = t.colour = t.move = t.beam = *line.fade;
    if (line.delay) t.delay = *line.delay;
    return t;
}

std::uint64_t longest(const Times& t) {
    return t.delay + std::max({t.up, t.down, t.colour, t.move, t.beam});
}

}  // namespace

Tracker::Tracker(const Show& show, Colours& colours) : show_(show), colours_(colours) {
    const std::size_t size = show.parameters.size();
    state_.level.resize(size);
    state_.wave.assign(size, show::none);
    state_.statement.assign(size, show::none);
    state_.cue.assign(size, show::none);
    state_.jumps.resize(size);
    change_at_.resize(size);
    cue_mark_.assign(size, show::none);
    uncoloured_.resize(show.fixtures.size());
    for (Index p = 0; p < size; ++p) {
        const show::ParameterDef& def = show.definition(p);
        state_.level[p] = def.home;
        state_.jumps[p] =
            level_jumps(show.type_of(show.fixtures[show.parameters[p].fixture]), def.attribute, def.home);
        kind_.push_back(def.kind);
        if (def.kind == Kind::colour) ++uncoloured_[show.parameters[p].fixture];
    }
}

bool Tracker::next() {
    const Index index = index_ == show::none ? 0 : index_ + 1;
    if (index >= show_.cues.size()) return false;
    index_ = index;
    changes_.clear();
    timings_.clear();
    starts_.clear();
    const show::Cue& cue = show_.cues[index_];
    add_timings(cue.times);
    first_timing_ = 0;
    statement_ = show::none;
    restore();
    if (cue.block) clear_all();
    play(cue.items);
    return true;
}

void Tracker::add_timings(const Times& t) {
    first_timing_ = static_cast<std::uint32_t>(timings_.size());
    timings_.push_back({t.delay, t.up, t.down, t.curve});
    timings_.push_back({t.delay, t.colour, t.colour, t.curve});
    timings_.push_back({t.delay, t.move, t.move, t.curve});
    timings_.push_back({t.delay, t.beam, t.beam, t.curve});
}

// The cue after a cue-only cue starts from the state before it.
void Tracker::restore() {
    std::vector<Before> before;
    before.swap(before_);
    for (const Before& b : before) {
        const bool jumps = b.jumps != 0 || state_.jumps[b.parameter] != 0;
        count_colour(b.parameter, state_.statement[b.parameter], b.statement);
        state_.level[b.parameter] = b.level;
        state_.wave[b.parameter] = b.wave;
        state_.statement[b.parameter] = b.statement;
        state_.cue[b.parameter] = b.cue;
        state_.jumps[b.parameter] = b.jumps;
        touch(b.parameter, jumps);  // now, so that a second cue-only cue comes back to this state too
    }
}

void Tracker::clear_all() {
    for (Index p = 0; p < state_.level.size(); ++p) {
        const show::ParameterDef& def = show_.definition(p);
        const show::Type& type = show_.type_of(show_.fixtures[show_.parameters[p].fixture]);
        set(p, def.home, show::none, level_jumps(type, def.attribute, def.home));
    }
}

void Tracker::play(const std::vector<show::Item>& items) {
    for (const show::Item& item : items) {
        if (item.look != show::none)
            play(show_.looks[item.look].items);
        else
            play(show_.statements[item.statement]);
    }
}

void Tracker::play(const Statement& statement) {
    statement_ = static_cast<Index>(&statement - show_.statements.data());
    selection_ = statement.selection;
    first_timing_ = 0;
    if (statement.fade || statement.delay) add_timings(times_of(show_.cues[index_].times, statement));
    const show::Selection& selection = show_.selections[statement.selection];
    for (Index i = 0; i < statement.setting_count; ++i)
        apply(show_.settings[statement.first_setting + i], selection);
}

void Tracker::apply(const Setting& setting, const show::Selection& selection) {
    if (setting.kind == Setting::Kind::wave) return apply_wave(setting);
    for (const Element& element : selection.elements) {
        switch (setting.kind) {
            case Setting::Kind::level:
                apply_value(setting, element);
                break;
            case Setting::Kind::colour:
                apply_colour(setting, element);
                break;
            case Setting::Kind::palette:
                apply_palette(show_.palettes[setting.what], setting, element);
                break;
            case Setting::Kind::emitter:
                apply_emitter(setting, element);
                break;
            case Setting::Kind::parameter:
                apply_value(setting, element);
                break;
            case Setting::Kind::steady:
                end_waves(element);
                break;
            case Setting::Kind::wave:
                break;
        }
    }
}

void Tracker::apply_colour(const Setting& setting, Element element) {
    const show::Fixture& fixture = show_.fixtures[element.fixture];
    const show::Mode& mode = show_.mode_of(fixture);
    const auto& places = mode.parts[element.cell].emitters;
    if (places.empty()) return;
    const TypeColour& colour = colours_.on(fixture.type, setting);
    for (const std::uint16_t place : places)
        set(fixture.first_parameter + place, colour.level[mode.parameters[place].emitter], show::none, false);
}

void Tracker::apply_palette(const show::Palette& palette, const Setting& setting, Element element) {
    bool coloured = false;  // a fixture with none of a palette's emitters keeps its colour
    for (Index i = 0; i < palette.setting_count; ++i) {
        const Setting& part = show_.settings[palette.first_setting + i];
        if (part.kind == Setting::Kind::parameter)
            apply_value(part, element);
        else
            coloured = coloured || can_take(show_, element, part);
    }
    if (coloured) apply_colour(setting, element);
}

// On a fixture or cell without a colour yet, the other emitters start at 0; a colour wave ends on all of them.
void Tracker::apply_emitter(const Setting& setting, Element element) {
    const show::Fixture& fixture = show_.fixtures[element.fixture];
    const show::Mode& mode = show_.mode_of(fixture);
    for (const std::uint16_t place : mode.parts[element.cell].emitters) {
        const Index parameter = fixture.first_parameter + place;
        const bool fresh = state_.statement[parameter] == show::none;
        if (mode.parameters[place].attribute == setting.what)
            set(parameter, setting.level, show::none, false);
        else if (fresh || state_.wave[parameter] != show::none)
            set(parameter, fresh ? Level{0} : state_.level[parameter], show::none, false);
    }
}

// A level, or a parameter's value: one that the fixture lacks is skipped. A running intensity or position
// wave goes on.
void Tracker::apply_value(const Setting& setting, Element element) {
    const show::Fixture& fixture = show_.fixtures[element.fixture];
    const show::Type& type = show_.type_of(fixture);
    const show::Mode& mode = show_.mode_of(fixture);
    const show::Part& part = mode.parts[element.cell];
    if (setting.kind == Setting::Kind::level) {
        for (const std::uint16_t place : part.intensity) {
            const Index parameter = fixture.first_parameter + place;
            set(parameter, setting.level, state_.wave[parameter],
                level_jumps(type, mode.parameters[place].attribute, setting.level));
        }
        return;
    }
    for (const auto* places : {&part.position, &part.beam})
        for (const std::uint16_t place : *places) {
            if (mode.parameters[place].attribute != setting.what) continue;
            bool jumps = false;
            const auto level = level_of(type, setting.what, show_.values[setting.value], jumps);
            const Index parameter = fixture.first_parameter + place;
            const bool offset = mode.parameters[place].kind == Kind::position;
            if (level) set(parameter, *level, offset ? state_.wave[parameter] : show::none, jumps);
        }
}

void Tracker::end_waves(Element element) {
    const show::Fixture& fixture = show_.fixtures[element.fixture];
    const show::Part& part = show_.mode_of(fixture).parts[element.cell];
    for (const auto* places : {&part.intensity, &part.emitters, &part.position, &part.beam})
        for (const std::uint16_t place : *places) {
            const Index parameter = fixture.first_parameter + place;
            if (state_.wave[parameter] != show::none)
                set(parameter, state_.level[parameter], show::none, state_.jumps[parameter] != 0);
        }
}

// The instance of the same wave on the same members that still runs on one of them, or none.
Index Tracker::running_before(const show::WaveUse& use, Index selection,
                              const std::vector<WaveRow>& rows) const {
    Index latest = show::none;
    for (const WaveRow& row : rows) {
        const Index running = state_.wave[row.parameter];
        if (running == show::none || running == latest) continue;
        const WaveInstance& w = waves_[running];
        if (show_.wave_uses[w.use].wave != use.wave) continue;
        if (w.selection != selection &&
            show_.selections[w.selection].elements != show_.selections[selection].elements)
            continue;
        if (latest == show::none || running > latest) latest = running;
    }
    return latest;
}

void Tracker::apply_wave(const Setting& setting) {
    const show::WaveUse& use = show_.wave_uses[setting.what];
    WaveReach reach = wave_reach(show_, show_.waves[use.wave], show_.selections[selection_]);
    const Index before = running_before(use, selection_, reach.rows);
    Index instance = before;
    if (before == show::none || !(show_.wave_uses[waves_[before].use] == use)) {
        instance = static_cast<Index>(waves_.size());
        waves_.push_back({setting.what, selection_, before, reach.rows});
        starts_.push_back(instance);
    }
    for (const WaveRow& row : reach.rows)
        set(row.parameter, state_.level[row.parameter], instance, state_.jumps[row.parameter] != 0);
    for (const Index parameter : reach.released)
        if (state_.wave[parameter] != show::none)
            set(parameter, state_.level[parameter], show::none, state_.jumps[parameter] != 0);
}

void Tracker::set(Index parameter, Level level, Index wave, bool jumps) {
    touch(parameter, jumps || state_.jumps[parameter] != 0);
    count_colour(parameter, state_.statement[parameter], statement_);
    state_.level[parameter] = level;
    state_.wave[parameter] = wave;
    state_.statement[parameter] = statement_;
    state_.cue[parameter] = statement_ == show::none ? show::none : index_;
    state_.jumps[parameter] = jumps;
}

// Notes that the cue sets a parameter, with the present line's timing; before a cue-only cue does, what was
// there is kept.
void Tracker::touch(Index parameter, bool jumps) {
    const std::uint32_t timing = first_timing_ + static_cast<std::uint32_t>(kind_[parameter]);
    if (cue_mark_[parameter] == index_) {
        Change& change = changes_[change_at_[parameter]];
        change.timing = timing;
        change.jumps = change.jumps || jumps;
        change.statement = statement_;
        return;
    }
    if (show_.cues[index_].cue_only)
        before_.push_back({parameter, state_.level[parameter], state_.wave[parameter],
                           state_.statement[parameter], state_.cue[parameter], state_.jumps[parameter]});
    cue_mark_[parameter] = index_;
    change_at_[parameter] = static_cast<std::uint32_t>(changes_.size());
    changes_.push_back({parameter, timing, jumps, statement_});
}

void Tracker::count_colour(Index parameter, Index before, Index after) {
    if ((before == show::none) == (after == show::none) || kind_[parameter] != Kind::colour) return;
    auto& count = uncoloured_[show_.parameters[parameter].fixture];
    count = after == show::none ? count + 1 : count - 1;
}

std::uint64_t complete_time(const Show& show, const show::Cue& cue) {
    std::uint64_t complete = longest(cue.times);
    std::vector<const std::vector<show::Item>*> open{&cue.items};
    while (!open.empty()) {
        const auto* items = open.back();
        open.pop_back();
        for (const show::Item& item : *items) {
            if (item.look != show::none)
                open.push_back(&show.looks[item.look].items);
            else
                complete = std::max(complete, longest(times_of(cue.times, show.statements[item.statement])));
        }
    }
    return complete;
}

}  // namespace tallow::track
