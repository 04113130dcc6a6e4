#include "compiler/track/tracker.hpp"

#include <algorithm>
#include <utility>

namespace tallow::track {

using show::Element;
using show::Kind;
using show::Setting;
using show::Statement;
using show::Times;

namespace {

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

Tracker::Tracker(const Show& show, Colours& colours, Origins origins)
    : show_(show),
      colours_(colours),
      targets_(show),
      parameters_(show.parameters.size()),
      changes_(show.parameters.size()),
      uncoloured_(show.fixtures.size()),
      keeps_origins_(origins == Origins::keep) {
    for (Index p = 0; p < parameters_.size(); ++p) {
        const show::ParameterDef& def = show.definition(p);
        const Index fixture = show.parameters[p].fixture;
        Parameter& parameter = parameters_[p];
        parameter.kind = def.kind;
        parameter.level = def.home;
        parameter.ranged = show.type_of(show.fixtures[fixture]).ranges_of(def.attribute) != nullptr;
        parameter.jumps = level_jumps(p, def.home);
        if (def.kind == Kind::colour) ++uncoloured_[fixture];
    }
}

bool Tracker::next() {
    const Index index = index_ == show::none ? 0 : index_ + 1;
    if (index >= show_.cues.size()) return false;
    index_ = index;
    change_count_ = 0;
    timings_.clear();
    starts_.clear();
    cue_only_ = show_.cues[index_].cue_only;
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

inline void Tracker::count_colour(Index p, Index before, Index after) {
    if ((before == show::none) == (after == show::none) || parameters_[p].kind != Kind::colour) return;
    auto& count = uncoloured_[show_.parameters[p].fixture];
    count = after == show::none ? count + 1 : count - 1;
}

// Notes that the cue changes a parameter, with the present line's timing.
inline void Tracker::note(Index p, bool jumps) {
    Parameter& parameter = parameters_[p];
    const std::uint32_t timing = first_timing_ + static_cast<std::uint32_t>(parameter.kind);
    if (parameter.changed_in == index_) {
        Change& change = changes_[parameter.change];
        change.timing = timing;
        change.statement = statement_;
        change.jumps = change.jumps || jumps;
        return;
    }
    parameter.changed_in = index_;
    parameter.change = change_count_;
    changes_[change_count_++] = {p, timing, statement_, parameter.kind, jumps};
}

// Before a cue-only cue says something itself, what was there is kept.
inline void Tracker::set(Index p, Level level, Index wave, bool jumps) {
    Parameter& parameter = parameters_[p];
    if (cue_only_ && parameter.kept_in != index_) {
        parameter.kept_in = index_;
        kept_.push_back({p, parameter});
    }
    if (keeps_origins_) stated_.erase({p, statement_, index_});
    note(p, jumps || parameter.jumps);
    count_colour(p, parameter.statement, statement_);
    parameter.level = level;
    parameter.jumps = jumps;
    parameter.wave = wave;
    parameter.statement = statement_;
    parameter.cue = statement_ == show::none ? show::none : index_;
}

// Puts a wave over the present level, or none.
void Tracker::set_over(Index p, Index wave) {
    const Origin from = keeps_origins_ ? origin(p) : Origin{};
    set(p, parameters_[p].level, wave, parameters_[p].jumps);
    if (keeps_origins_) stated_[{p, statement_, index_}] = from;
}

Origin Tracker::origin(Index p) const {
    const Standing& standing = parameters_[p];
    const auto it = stated_.find({p, standing.statement, standing.cue});
    return it == stated_.end() ? Origin{standing.statement, standing.cue} : it->second;
}

// The cue after a cue-only cue starts from the state before it.
void Tracker::restore() {
    for (const Kept& kept : std::exchange(kept_, {})) {
        Parameter& parameter = parameters_[kept.parameter];
        note(kept.parameter, kept.was.jumps || parameter.jumps);
        count_colour(kept.parameter, parameter.statement, kept.was.statement);
        static_cast<Standing&>(parameter) = kept.was;
    }
}

void Tracker::clear_all() {
    for (Index p = 0; p < parameters_.size(); ++p) {
        const Level home = show_.definition(p).home;
        set(p, home, show::none, level_jumps(p, home));
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
    switch (setting.kind) {
        case Setting::Kind::level:
            return apply_level(setting.level);
        case Setting::Kind::colour:
            return apply_colour(setting);
        case Setting::Kind::palette:
            return apply_palette(setting, selection);
        case Setting::Kind::emitter:
            for (const Element& element : selection.elements) apply_emitter(setting, element);
            return;
        case Setting::Kind::parameter:
            for (const Element& element : selection.elements) apply_value(setting, element);
            return;
        case Setting::Kind::steady:
            for (const Element& element : selection.elements) end_waves(element);
            return;
        case Setting::Kind::wave:
            return apply_wave(setting);
    }
}

// A running intensity wave goes on.
void Tracker::apply_level(Level level) {
    for (const Steps& steps : targets_.intensities(selection_))
        for (Index i = 0; i < steps.count; ++i) {
            const Index p = steps.at(i);
            const Parameter& parameter = parameters_[p];
            set(p, level, parameter.wave, parameter.ranged && level_jumps(p, level));
        }
}

void Tracker::apply_colour(const Setting& setting) {
    const bool palette = setting.kind == Setting::Kind::palette;
    const TypeColour* colour = nullptr;
    Index type = show::none;  // that `colour` is for
    for (const EmitterRun& run : targets_.emitters(selection_)) {
        if (palette && !colours(show_.palettes[setting.what], run)) continue;
        if (colour == nullptr || run.type != type) colour = &colours_.on(type = run.type, setting);
        for (Index i = 0; i < run.fixtures.count; ++i)
            for (const std::uint16_t place : run.part->emitters)
                set(run.fixtures.at(i) + place, colour->level[run.mode->parameters[place].emitter],
                    show::none, false);
    }
}

// A fixture with none of the emitters that a palette names keeps its colour.
bool Tracker::colours(const show::Palette& palette, const EmitterRun& run) const {
    for (Index i = 0; i < palette.setting_count; ++i) {
        const Setting& part = show_.settings[palette.first_setting + i];
        if (part.kind == Setting::Kind::colour) return true;
        if (part.kind != Setting::Kind::emitter) continue;
        for (const std::uint16_t place : run.part->emitters)
            if (run.mode->parameters[place].attribute == part.what) return true;
    }
    return false;
}

void Tracker::apply_palette(const Setting& setting, const show::Selection& selection) {
    const show::Palette& palette = show_.palettes[setting.what];
    if (palette.coloured) apply_colour(setting);
    for (Index i = 0; i < palette.setting_count; ++i) {
        const Setting& part = show_.settings[palette.first_setting + i];
        if (part.kind != Setting::Kind::parameter) continue;
        for (const Element& element : selection.elements) apply_value(part, element);
    }
}

// On a fixture or cell without a colour yet, the other emitters start at 0; a colour wave ends on all of
// them.
void Tracker::apply_emitter(const Setting& setting, Element element) {
    const show::Fixture& fixture = show_.fixtures[element.fixture];
    const show::Mode& mode = show_.mode_of(fixture);
    for (const std::uint16_t place : mode.parts[element.cell].emitters) {
        const Index p = fixture.first_parameter + place;
        const Parameter& parameter = parameters_[p];
        const bool fresh = parameter.statement == show::none;
        if (mode.parameters[place].attribute == setting.what)
            set(p, setting.level, show::none, false);
        else if (fresh)
            set(p, 0, show::none, false);
        else if (parameter.wave != show::none)
            set_over(p, show::none);
    }
}

// A parameter's value: one that the fixture lacks is skipped. A running position wave goes on.
void Tracker::apply_value(const Setting& setting, Element element) {
    const show::Fixture& fixture = show_.fixtures[element.fixture];
    const show::Mode& mode = show_.mode_of(fixture);
    const show::Part& part = mode.parts[element.cell];
    for (const auto* places : {&part.position, &part.beam})
        for (const std::uint16_t place : *places) {
            if (mode.parameters[place].attribute != setting.what) continue;
            bool jumps = false;
            const auto level =
                level_of(show_.type_of(fixture), setting.what, show_.values[setting.value], jumps);
            const Index p = fixture.first_parameter + place;
            const bool offset = parameters_[p].kind == Kind::position;
            if (level) set(p, *level, offset ? parameters_[p].wave : show::none, jumps);
        }
}

void Tracker::end_waves(Element element) {
    const show::Fixture& fixture = show_.fixtures[element.fixture];
    const show::Part& part = show_.mode_of(fixture).parts[element.cell];
    for (const auto* places : {&part.intensity, &part.emitters, &part.position, &part.beam})
        for (const std::uint16_t place : *places) {
            const Index parameter = fixture.first_parameter + place;
            if (parameters_[parameter].wave != show::none)
                set_over(parameter, show::none);
        }
}

// The instance of the same wave on the same members that still runs on one of them, or none.
Index Tracker::running_before(const show::WaveUse& use, Index selection,
                              const std::vector<WaveRow>& rows) const {
    Index latest = show::none;
    for (const WaveRow& row : rows) {
        const Index running = parameters_[row.parameter].wave;
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
        waves_.push_back({setting.what, selection_, before, reach.rows, statement_, index_});
        starts_.push_back(instance);
    }
    for (const WaveRow& row : reach.rows)
        set_over(row.parameter, instance);
    for (const Index parameter : reach.released)
        if (parameters_[parameter].wave != show::none)
            set_over(parameter, show::none);
}

// Whether a level lies in a range without a scale.
bool Tracker::level_jumps(Index p, Level level) const {
    if (!parameters_[p].ranged) return false;
    show::Value value;
    value.level = level;
    bool jumps = false;
    level_of(show_.type_of(show_.fixtures[show_.parameters[p].fixture]), show_.definition(p).attribute, value,
             jumps);
    return jumps;
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
