// What begins and ends waves and chases.
#include <algorithm>

#include "compiler/track/tracker_set.hpp"

namespace tallow::track {

using show::Element;
using show::Setting;

// Puts a wave over the present level, or none.
void Tracker::set_over(Index p, Index wave) {
    const Origin from = keeps_origins_ ? origin(p) : Origin{};
    const bool stated = parameters_[p].stated;
    set(p, parameters_[p].level, wave, parameters_[p].jumps);
    parameters_[p].stated = stated;
    if (keeps_origins_) stated_[{p, statement_, index_}] = from;
}

Origin Tracker::origin(Index p) const {
    const Standing& standing = parameters_[p];
    const auto it = stated_.find({p, standing.statement, standing.cue});
    return it == stated_.end() ? Origin{standing.statement, standing.cue} : it->second;
}

void Tracker::end_waves(Element element) {
    const show::Fixture& fixture = show_.fixtures[element.fixture];
    const show::Part& part = show_.mode_of(fixture).parts[element.cell];
    for (const auto* places : {&part.intensity, &part.emitters, &part.position, &part.beam})
        for (const std::uint16_t place : *places) {
            const Index parameter = fixture.first_parameter + place;
            const Parameter& p = parameters_[parameter];
            const auto let_go = let_go_.find(parameter);
            if (let_go != let_go_.end() && !is_chase(let_go->second)) let_go_.erase(let_go);
            if (p.wave != show::none && !is_chase(p.wave)) set_over(parameter, show::none);
        }
}

// The wave or chase on a parameter, or the one that this cue's `block` let go of: what such a cue names again
// goes on.
Index Tracker::running_on(Index p) const {
    if (parameters_[p].wave != show::none || let_go_.empty()) return parameters_[p].wave;
    const auto it = let_go_.find(p);
    return it == let_go_.end() ? show::none : it->second;
}

// The instance of the same wave on the same members that still runs on one of them, or none.
Index Tracker::running_before(const show::WaveUse& use, Index selection,
                              const std::vector<WaveRow>& rows) const {
    Index latest = show::none;
    for (const WaveRow& row : rows) {
        const Index running = running_on(row.parameter);
        if (running == show::none || running == latest) continue;
        const WaveInstance& w = waves_[running];
        if (w.chase != show::none || show_.wave_uses[w.use].wave != use.wave) continue;
        if (w.selection != selection &&
            show_.selections[w.selection].elements != show_.selections[selection].elements)
            continue;
        if (latest == show::none || running > latest) latest = running;
    }
    return latest;
}

// Whether a parameter is of what a look was cut down to.
bool Tracker::concerns(Index parameter) const {
    const show::RigParameter& p = show_.parameters[parameter];
    return manner_.within->holds({p.fixture, show_.definition(parameter).cell});
}

void Tracker::apply_wave(const Setting& setting) {
    const show::WaveUse& use = show_.wave_uses[setting.what];
    WaveReach reach = wave_reach(show_, show_.waves[use.wave], show_.selections[selection_]);
    if (manner_.within != nullptr) {
        std::erase_if(reach.rows, [&](const WaveRow& row) { return !concerns(row.parameter); });
        std::erase_if(reach.released, [&](Index p) { return !concerns(p); });
    }
    const Index before = running_before(use, selection_, reach.rows);
    Index instance = before;
    if (before == show::none || !(show_.wave_uses[waves_[before].use] == use) ||
        waves_[before].rows != reach.rows) {
        instance = static_cast<Index>(waves_.size());
        waves_.push_back({setting.what, selection_, before, reach.rows, show::none, statement_, index_});
        starts_.push_back(instance);
    }
    for (const WaveRow& row : reach.rows) {
        take_timing(row.member);
        set_over(row.parameter, instance);
    }
    for (const Index parameter : reach.released)
        if (parameters_[parameter].wave != show::none) set_over(parameter, show::none);
}

// A chase that runs goes on; one that does not begins.
void Tracker::start_chase(Index index) {
    const ChasePicture& picture = book_.chase(index);
    const auto [running, fresh] = chases_.try_emplace(index, static_cast<Index>(waves_.size()));
    const Index instance = running->second;
    if (fresh) waves_.push_back({show::none, selection_, show::none, {}, index, statement_, index_});
    const auto is_on = [&](Index p) { return running_on(p) == instance; };
    const bool started = std::find(starts_.begin(), starts_.end(), instance) != starts_.end();
    if (!started && std::none_of(picture.parameter.begin(), picture.parameter.end(), is_on))
        starts_.push_back(instance);
    for (const Index p : picture.parameter)
        if (manner_.within == nullptr || concerns(p)) set_over(p, instance);
}

void Tracker::end_chase(Index index) {
    const auto running = chases_.find(index);
    if (running == chases_.end()) return;
    std::erase_if(let_go_, [&](const auto& gone) { return gone.second == running->second; });
    for (const Index p : book_.chase(index).parameter)
        if (parameters_[p].wave == running->second && (manner_.within == nullptr || concerns(p)))
            set_over(p, show::none);
}

}  // namespace tallow::track
