// Planning: which neighbours move together. After a GO or the end of a fade the columns are gone through
// once, and every tick until the next change is a few tight loops over what this found.
#include "runtime/stage.hpp"

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

Stage::Stage(const Roll& roll)
    : rig_(roll.parameters),
      ticks_per_ms_(roll.refresh),
      clocks_(rig_.size()),
      waves_(roll),
      from_(rig_.size()),
      to_(rig_.size()),
      lane_(rig_.size(), FadeClocks::no_lane),
      now_(rig_.home),
      dark_(rig_.size()),
      lands_(landing_universes(rig_)),
      moving_(roll.universes.size()),
      touched_(roll.universes.size(), 1),
      any_touched_(true) {
    now_.push_back(full);
    to_.level = to_.value = rig_.home;
    fading_.reserve(rig_.size());
    waving_.reserve(2 * rig_.size());
}

void Stage::clear_touched() {
    std::fill(touched_.begin(), touched_.end(), std::uint8_t{0});
    any_touched_ = false;
}

void Stage::plan() {
    fading_.clear();
    waving_.clear();
    last_waving_.fill(no_run);
    waves_.want_none();
    std::fill(moving_.begin(), moving_.end(), std::uint8_t{0});
    for (std::uint32_t p = 0; p < rig_.size(); ++p) {
        if (lane_[p] != FadeClocks::no_lane && clocks_.complete(lane_[p])) {
            clocks_.release(lane_[p]);
            lane_[p] = FadeClocks::no_lane;
            settle(p);
        }
        const bool in_fade = lane_[p] != FadeClocks::no_lane;
        dark_[p] = to_.level[p] == 0 && (!in_fade || from_.level[p] == 0);
        if (in_fade) plan_fade(p);
        if (in_fade && from_.row[p] != none) plan_wave(p, from_.row[p], Target::from);
        if (to_.row[p] != none) plan_wave(p, to_.row[p], in_fade ? Target::to : Target::now);
        if ((in_fade || to_.row[p] != none) && lands_[p] != none) moving_[lands_[p]] = 1;
    }
    join_short_runs();
    stale_ = false;
}

void Stage::plan_fade(std::uint32_t p) {
    if (!fading_.empty() && fading_.back().first + fading_.back().count == p &&
        fading_.back().lane == lane_[p])
        ++fading_.back().count;
    else
        fading_.push_back({p, 1, lane_[p]});
}

void Stage::plan_wave(std::uint32_t p, std::uint32_t row, Target target) {
    waves_.want(row);
    Side& on = side(target);
    const auto [low, high] = ends(p, on.level[p], row);
    const bool leaves = std::min(low, high) < 0 || std::max(low, high) > full;
    on.low[p] = static_cast<Level>(low);
    on.high[p] = static_cast<Level>(high);
    std::size_t& last = last_waving_[static_cast<std::size_t>(target)];
    if (last < waving_.size()) {
        WaveRun& run = waving_[last];
        if (run.first + run.count == p && run.row + run.count == row && run.leaves == leaves) {
            ++run.count;
            return;
        }
    }
    last = waving_.size();
    waving_.push_back({row, p, 1, target, leaves});
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
