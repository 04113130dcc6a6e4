// Planning: which neighbours move together. After a GO or the end of a fade the columns are gone through
// once, and every tick until the next change is a few tight loops over what this found.
#include "runtime/engine/stage.hpp"

#include <algorithm>

namespace tallow::runtime {
namespace {

// Below this length a loop of its own costs more than looking up each weight.
constexpr std::uint32_t short_run = 24;
constexpr auto no_run = ~std::size_t{0};

// The universe that shows a parameter: its own, or for a virtual intensity that of what stands under it.
std::vector<std::uint32_t> landing_universes(const Parameters& rig) {
    std::vector<std::uint32_t> lands = rig.universe;
    for (std::uint32_t p = 0; p < rig.size(); ++p)
        if (rig.under[p] != none && lands[rig.under[p]] == none) lands[rig.under[p]] = rig.universe[p];
    return lands;
}

}  // namespace

Stage::Stage(const Roll& roll, const Rows& rows)
    : rows_(rows.size()),
      ticks_per_ms_(roll.refresh),
      parameter_(rows.parameter),
      clocks_(rows_),
      sources_(roll),
      from_(rows_),
      to_(rows_),
      lane_(rows_, FadeClocks::no_lane),
      dark_(rows_),
      moving_(roll.universes.size()),
      touched_(roll.universes.size(), 1),
      any_touched_(true) {
    const std::vector<std::uint32_t> lands = landing_universes(roll.parameters);
    for (std::size_t row = 0; row < rows_; ++row) {
        const std::uint32_t p = parameter_[row];
        kind_.push_back(p == none ? Kind::intensity : roll.parameters.kind[p]);
        lands_.push_back(p == none ? none : lands[p]);
        // Rows behind the rig's wait at 0 until they are put somewhere.
        to_.level[row] = p == none ? full : row < roll.parameters.size() ? roll.parameters.home[p] : Level{0};
    }
    now_ = to_.value = to_.level;
    fading_.reserve(rows_);
    waving_.reserve(2 * rows_);
    chasing_.reserve(2 * rows_);
}

void Stage::clear_touched() {
    std::fill(touched_.begin(), touched_.end(), std::uint8_t{0});
    any_touched_ = false;
}

void Stage::touch_all() {
    std::fill(touched_.begin(), touched_.end(), std::uint8_t{1});
    any_touched_ = true;
}

void Stage::plan() {
    fading_.clear();
    waving_.clear();
    chasing_.clear();
    last_waving_.fill(no_run);
    last_chasing_.fill(no_run);
    sources_.want_none();
    std::fill(moving_.begin(), moving_.end(), std::uint8_t{0});
    for (std::uint32_t row = 0; row < rows_; ++row) {
        if (in_fade(row) && clocks_.complete(lane_[row])) {
            clocks_.release(lane_[row]);
            lane_[row] = FadeClocks::no_lane;
            settle(row);
        }
        const bool fades = in_fade(row);
        dark_[row] = at_zero(row, to_) && (!fades || at_zero(row, from_));
        if (fades) plan_fade(row);
        if (fades && from_.source[row] != none) plan_source(row, from_.source[row], Target::from);
        if (to_.source[row] != none) plan_source(row, to_.source[row], fades ? Target::to : Target::now);
        if ((fades || to_.source[row] != none) && lands_[row] != none) moving_[lands_[row]] = 1;
    }
    join_short_runs();
    stale_ = false;
}

void Stage::plan_fade(std::uint32_t row) {
    if (!fading_.empty() && fading_.back().first + fading_.back().count == row &&
        fading_.back().lane == lane_[row])
        ++fading_.back().count;
    else
        fading_.push_back({row, 1, lane_[row]});
}

void Stage::plan_source(std::uint32_t row, std::uint32_t source, Target target) {
    if (sources_.is_chase(source))
        plan_chase(row, sources_.chase_row(source), target);
    else
        plan_wave(row, source, target);
}

void Stage::plan_wave(std::uint32_t row, std::uint32_t source, Target target) {
    sources_.waves.want(source);
    Side& on = side(target);
    const auto [low, high] = ends(row, on.level[row], source);
    const bool leaves = std::min(low, high) < 0 || std::max(low, high) > full;
    on.low[row] = static_cast<Level>(low);
    on.high[row] = static_cast<Level>(high);
    add_run(waving_, last_waving_, {source, row, 1, target, leaves});
}

void Stage::plan_chase(std::uint32_t row, std::uint32_t source, Target target) {
    sources_.chases.want(source);
    add_run(chasing_, last_chasing_, {source, row, 1, target, false});
}

// Adds a run of one, or makes the last run of its target longer by it.
void Stage::add_run(std::vector<SourceRun>& runs, std::array<std::size_t, 3>& last, const SourceRun& one) {
    std::size_t& at = last[static_cast<std::size_t>(one.target)];
    if (at < runs.size()) {
        SourceRun& run = runs[at];
        if (run.first + run.count == one.first && run.source + run.count == one.source &&
            run.leaves == one.leaves) {
            ++run.count;
            return;
        }
    }
    at = runs.size();
    runs.push_back(one);
}

// Short runs side by side become one whose parameters look their weights up.
void Stage::join_short_runs() {
    const auto is_short = [](const FadeRun& run) {
        return run.lane == FadeClocks::no_lane || run.count < short_run;
    };
    std::size_t kept = 0;
    for (const FadeRun& run : fading_) {
        FadeRun* const before = kept > 0 ? &fading_[kept - 1] : nullptr;
        if (before && before->first + before->count == run.first && is_short(*before) && is_short(run)) {
            before->count += run.count;
            before->lane = FadeClocks::no_lane;
        } else {
            fading_[kept++] = run;
        }
    }
    fading_.resize(kept);
}

}  // namespace tallow::runtime
