#include "runtime/engine/mix.hpp"

#include <algorithm>
#include <utility>

namespace tallow::runtime {
namespace {

// A position of a submaster as a weight: full is the whole way.
Weight weight_of(Level position) {
    return Weight{position} + (position >> 15);
}

}  // namespace

Mix::Mix(const Roll& roll)
    : roll_(roll),
      rows_(roll),
      stage_(roll, rows_),
      claims_(roll, rows_, stage_),
      overlay_(roll),
      position_(roll.submasters.size()),
      dark_(roll.parameters.size()),
      levels_(roll.parameters.size() + 1, full) {
    old_.reserve(roll.parameters.size());
    if (roll.submasters.empty()) return;
    jumps_.resize(rows_.size());
    std::vector<std::uint32_t> jumps_in(roll.parameters.size(), none);  // the last submaster it jumps in
    for (std::uint32_t i = 0; i < roll.submasters.size(); ++i) {
        for (const Stretch& s : roll.submasters[i].jumps)
            std::fill_n(jumps_in.begin() + s.parameter, s.count, i);
        each_row(i, [&](std::uint32_t p, std::uint32_t row, Level, std::uint32_t) {
            jumps_[row] = jumps_in[p] == i;
        });
    }
}

// Calls `each` with the parameter, the row, the level and the source of all that a submaster holds.
template <class Each>
void Mix::each_row(std::uint32_t submaster, Each each) const {
    std::uint32_t row = rows_.submaster[submaster];
    for (const Run& run : roll_.submasters[submaster].runs)
        for (std::uint32_t i = 0; i < run.level.size(); ++i)
            each(run.parameter + i, row++, run.level[i], run.wave.empty() ? none : run.wave[i]);
}

void Mix::evaluate(Tick t) {
    stage_.evaluate(t);
    if (old_.empty() && !overlay_.goes()) return;
    dissolved_ = weigh(dissolve_, t).rising;
    if (dissolved_ == whole) old_.clear();
    overlay_.go(dissolved_);
    stage_.touch_all();
}

void Mix::dissolve(Mix& from, const std::vector<std::uint32_t>& place, Tick t, Tick ticks) {
    from.put_together();
    old_.clear();
    put_together();
    for (std::uint32_t p = 0; p < place.size(); ++p)
        if (place[p] != none && from.levels_[place[p]] != levels_[p])
            old_.push_back({p, from.levels_[place[p]]});
    overlay_.dissolve(from.overlay_, place);
    dissolve_ = {t, ticks, Curve::linear};
    dissolved_ = 0;
    stage_.touch_all();
}

void Mix::begin_go(Tick g) {
    stage_.evaluate(g);
    claims_.next_go();
    std::copy_n(stage_.dark(), dark_.size(), dark_.begin());
    claims_.merge_dark(dark_.data());
    for (std::uint32_t i = 0; i < position_.size(); ++i)
        if (position_[i] > 0)
            each_row(i, [&](std::uint32_t p, std::uint32_t row, Level, std::uint32_t) {
                if (stage_.dark()[row] == 0) dark_[p] = 0;
            });
    for (const Run& run : roll_.keeps)
        for (std::uint32_t i = 0; i < run.level.size(); ++i)
            if (run.level[i] > 0) dark_[run.parameter + i] = 0;
}

// What is no intensity takes no time where no light shows it.
bool Mix::moves_at_once(std::uint32_t p) const {
    const Parameters& rig = roll_.parameters;
    if (rig.kind[p] == Kind::intensity) return false;
    for (std::uint32_t above = rig.under[p]; above != none; above = rig.under[above])
        if (dark_[above] != 0) return true;
    return false;
}

void Mix::set_submaster(std::uint32_t index, Level position, Tick t) {
    const Level before = std::exchange(position_[index], position);
    if (before == position) return;
    stage_.evaluate(t);
    stage_.touch_all();
    if (before != 0 && position != 0) return;
    // What stands at 0 runs no waves.
    const bool rises = position != 0;
    rises ? ++raised_ : --raised_;
    if (rises)
        for (const std::uint32_t source : roll_.submasters[index].starts) stage_.start(source, t);
    each_row(index, [&](std::uint32_t, std::uint32_t row, Level level, std::uint32_t source) {
        stage_.put(row, rises ? level : Level{0}, rises ? source : none, t);
    });
}

void Mix::set_master(Level position) {
    if (std::exchange(master_, position) != position) stage_.touch_all();
}

void Mix::set_blackout(bool on) {
    if (std::exchange(blackout_, on) != on) stage_.touch_all();
}

void Mix::set_panic(bool on) {
    if (overlay_.up() == on) return;
    overlay_.set_up(on);
    stage_.touch_all();
}

const Level* Mix::levels() {
    const Level master = blackout_ ? Level{0} : master_;
    if (!claims_.any() && raised_ == 0 && master == full && overlay_.empty() && old_.empty())
        return stage_.now();
    put_together();
    if (master != full) scale(master);
    overlay_.lay(levels_.data());
    return levels_.data();
}

// What lists and submasters say.
void Mix::put_together() {
    std::copy_n(stage_.now(), roll_.parameters.size(), levels_.begin());
    claims_.merge(levels_.data());
    for (std::uint32_t i = 0; i < position_.size(); ++i)
        if (position_[i] > 0) bring_in(i);
    for (const auto& [p, level] : old_) levels_[p] = blend(level, levels_[p], dissolved_);
}

void Mix::bring_in(std::uint32_t submaster) {
    const Level position = position_[submaster];
    each_row(submaster, [&](std::uint32_t p, std::uint32_t row, Level, std::uint32_t) {
        const Level own = stage_.now()[row];
        if (roll_.parameters.kind[p] == Kind::intensity)
            levels_[p] = std::max(levels_[p], scaled(own, position));
        else
            levels_[p] = jumps_[row] != 0 ? own : blend(levels_[p], own, weight_of(position));
    });
}

// The grand master scales the intensities that stand under no other.
void Mix::scale(Level position) {
    const Parameters& rig = roll_.parameters;
    for (std::uint32_t p = 0; p < rig.size(); ++p)
        if (rig.kind[p] == Kind::intensity && rig.under[p] == none) levels_[p] = scaled(levels_[p], position);
}

}  // namespace tallow::runtime
