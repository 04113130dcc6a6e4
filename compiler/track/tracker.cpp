#include "compiler/track/tracker.hpp"

#include <algorithm>
#include <utility>

#include "compiler/track/spread.hpp"
#include "compiler/track/tracker_set.hpp"

namespace tallow::track {

using show::Element;
using show::Kind;
using show::Setting;
using show::Statement;
using show::Times;

namespace {

std::uint64_t longest(const Times& t) {
    return t.delay + std::max({t.up, t.down, t.colour, t.move, t.beam});
}

}  // namespace

show::Cue cue_of(const std::vector<show::Item>& items) {
    show::Cue cue;
    cue.items = items;
    return cue;
}

Tracker::Tracker(const Show& show, Book& book, Index list, Origins origins)
    : Tracker(show, book, std::span(show.cues).subspan(show.lists[list].first, show.lists[list].count)) {
    first_ = show.lists[list].first;
    keeps_origins_ = origins == Origins::keep;
}

Tracker::Tracker(const Show& show, Book& book, std::span<const show::Cue> cues)
    : show_(show),
      book_(book),
      cues_(cues),
      first_(0),
      targets_(show),
      parameters_(show.parameters.size()),
      changes_(show.parameters.size()),
      uncoloured_(show.fixtures.size()) {
    for (Index p = 0; p < parameters_.size(); ++p) {
        const show::ParameterDef& def = show.definition(p);
        const Index fixture = show.parameters[p].fixture;
        Parameter& parameter = parameters_[p];
        parameter.kind = def.kind;
        parameter.level = def.home;
        parameter.ranged = show.type_of(show.fixtures[fixture]).ranges_of(def.attribute) != nullptr;
        parameter.jumps = level_jumps(p, def.home);
        parameter.wants_colour = def.kind == Kind::colour && def.home > 0;
        if (parameter.wants_colour) ++uncoloured_[fixture], ++all_uncoloured_;
    }
}

bool Tracker::next() {
    const Index index = index_ == show::none ? first_ : index_ + 1;
    if (index - first_ >= cues_.size()) return false;
    index_ = index;
    change_count_ = 0;
    timings_.clear();
    starts_.clear();
    const show::Cue& cue = this->cue();
    cue_only_ = cue.cue_only;
    add_timings(cue.times);
    first_timing_ = 0;
    statement_ = show::none;
    restore();
    let_go_.clear();
    if (cue.block) clear_all();
    play(cue.items, {});
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
    for (const Kept& kept : std::exchange(kept_, {})) {
        Parameter& parameter = parameters_[kept.parameter];
        note(kept.parameter, kept.was.jumps || parameter.jumps);
        count_colour(kept.parameter, parameter.statement, kept.was.statement);
        static_cast<Standing&>(parameter) = kept.was;
    }
}

// Before a cue-only cue says something itself, what was there is kept.
void Tracker::remember(Index p) {
    Parameter& parameter = parameters_[p];
    if (cue_only_ && parameter.kept_in != index_) {
        parameter.kept_in = index_;
        kept_.push_back({p, parameter});
    }
    if (keeps_origins_) stated_.erase({p, statement_, index_});
}

void Tracker::clear_all() {
    for (Index p = 0; p < parameters_.size(); ++p) {
        if (!stands_for(p)) continue;
        if (parameters_[p].wave != show::none) let_go_.emplace(p, parameters_[p].wave);
        const Level home = show_.definition(p).home;
        set(p, home, show::none, level_jumps(p, home));
    }
}

void Tracker::play(const std::vector<show::Item>& items, Manner manner) {
    for (const show::Item& item : items) {
        manner_ = manner;
        if (item.look == show::none) {
            play(show_.statements[item.statement]);
            continue;
        }
        Manner inner = manner;
        inner.scale = product(manner.scale, item.scale);
        if (item.within != show::none) {
            const auto& selection = show_.selections[item.within];
            inner.within =
                &sets_.try_emplace({manner.within, item.within}, selection, manner.within).first->second;
        }
        play(show_.looks[item.look].items, inner);
    }
}

void Tracker::play(const Statement& statement) {
    statement_ = static_cast<Index>(&statement - show_.statements.data());
    selection_ = statement.selection;
    first_timing_ = 0;
    by_member_ = false;
    if (manner_.within != nullptr || is_spread(show_, statement)) return play_members(statement);
    if (statement.fade || statement.delay) add_timings(times_of(cue().times, statement, {}));
    const show::Selection& selection = show_.selections[statement.selection];
    for (Index i = 0; i < statement.setting_count; ++i)
        apply(show_.settings[statement.first_setting + i], selection);
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
    show::for_each_line(show, cue.items, [&](const Statement& line, const show::ElementSet*) {
        const auto last = static_cast<std::int64_t>(show.selections[line.selection].elements.size()) - 1;
        for (const Share end : {Share{0, last}, Share{last, last}})
            complete = std::max(complete, longest(times_of(cue.times, line, end)));
    });
    return complete;
}

}  // namespace tallow::track
