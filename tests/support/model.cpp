#include "tests/support/model.hpp"

#include <algorithm>
#include <cmath>

#include "runtime/wave_row.hpp"

namespace tallow::test {
namespace {

using runtime::Curve;
using runtime::Kind;
using runtime::Level;
using runtime::none;
using runtime::Tick;

constexpr long double full = 65535;

long double curve_at(Curve curve, bool falling, long double p) {
    switch (curve) {
        case Curve::linear:
            return p;
        case Curve::ease:
            return p * p * (3 - 2 * p);
        case Curve::visual:
            return falling ? 1 - (1 - p) * (1 - p) : p * p;
    }
    return p;
}

}  // namespace

Model::Model(const ExactRoll& exact) : exact_(exact), roll_(exact.roll) {
    for (const Level home : roll_.parameters.home)
        moves_.push_back({{0, 0, 0, Curve::linear, false, {home, none}, {}}});
    begun_.resize(roll_.waves.size());
    before_.resize(moves_.size());
    shown_.resize(moves_.size());
}

Rational Model::phase(std::uint32_t wave, Tick t) const {
    const auto& starts = begun_[wave];
    auto last = starts.end();
    while (last != starts.begin() && (last - 1)->at > t) --last;
    if (last == starts.begin()) return 0;
    --last;
    return last->phase + Rational(static_cast<std::int64_t>(t - last->at),
                                  static_cast<std::int64_t>(roll_.waves[wave].period * roll_.refresh));
}

// A side that runs: its level with its wave, 0..65535.
long double Model::goal_value(std::uint32_t p, Goal goal, Tick t) const {
    if (goal.wave == none) return goal.level;
    const auto& wave = roll_.waves[goal.wave];
    const std::uint32_t row = runtime::row_of(wave, p);
    const long double w = exact_.shapes[wave.waveform].at(
        phase(goal.wave, t) + exact_.offsets[goal.wave][row], wave.member[row]);
    const long double moved = wave.low[row] + (wave.high[row] - wave.low[row]) * w;
    if (roll_.parameters.kind[p] == Kind::intensity) return goal.level * moved / full;
    if (roll_.parameters.kind[p] != Kind::position) return moved;
    return std::clamp<long double>(goal.level + moved, 0, full);
}

long double Model::middle(std::uint32_t p, Goal goal) const {
    if (goal.wave == none) return goal.level;
    const auto& wave = roll_.waves[goal.wave];
    const std::uint32_t row = runtime::row_of(wave, p);
    const long double mid = (wave.low[row] + wave.high[row]) / 2.0L;
    if (roll_.parameters.kind[p] == Kind::intensity) return goal.level * mid / full;
    return roll_.parameters.kind[p] == Kind::position ? goal.level + mid : mid;
}

bool Model::complete(std::uint32_t p, std::size_t moves, Tick t) const {
    const Move& move = moves_[p][moves - 1];
    return t >= move.start + move.duration;
}

// The value at t of a parameter to which only its first so many moves were said.
long double Model::value(std::uint32_t p, std::size_t moves, Tick t) const {
    const Move& move = moves_[p][moves - 1];
    if (complete(p, moves, t)) return goal_value(p, move.goal, t);
    const long double along =
        t <= move.start ? 0
                        : static_cast<long double>(t - move.start) / static_cast<long double>(move.duration);
    const long double c = curve_at(move.curve, move.falling, along);
    const long double old = move.held ? *move.held : goal_value(p, moves_[p][moves - 2].goal, t);
    return (1 - c) * old + c * goal_value(p, move.goal, t);
}

long double Model::shown(std::uint32_t p, Tick t) const {
    const std::uint32_t above = roll_.parameters.under[p];
    const long double own = value(p, moves_[p].size(), t) / full;
    const bool scaled_by_it = roll_.parameters.kind[p] == Kind::colour;
    if (above == none || roll_.parameters.universe[above] != none || !scaled_by_it) return own;
    return own * value(above, moves_[above].size(), t) / full;
}

// At level 0 and not on its way elsewhere, before the present GO said anything.
bool Model::dark(std::uint32_t p, Tick g) {
    for (std::uint32_t q = roll_.parameters.under[p]; q != none; q = roll_.parameters.under[q]) {
        if (moves_[q][before_[q] - 1].goal.level != 0) continue;
        if (complete(q, before_[q], g)) return true;
        const Move& move = moves_[q][before_[q] - 1];
        const long double old = move.held ? *move.held : moves_[q][before_[q] - 2].goal.level;
        if (old == 0) return true;
        delicate_ = delicate_ || old < 2;
    }
    return false;
}

void Model::state(std::uint32_t p, Goal goal, const runtime::Timing& timing, Tick g) {
    if (goal.wave != none && begun_[goal.wave].empty()) begin_wave(goal.wave, g);
    const std::size_t moves = moves_[p].size();
    const Goal last = moves_[p].back().goal;
    const bool settled = complete(p, moves, g);
    if (settled && last.level == goal.level && last.wave == goal.wave) return;
    const Kind kind = roll_.parameters.kind[p];
    if (kind != Kind::intensity && dark(p, g)) {
        moves_[p].push_back({g, g, 0, Curve::linear, false, goal, {}});
        return;
    }
    const long double present = settled ? middle(p, last) : shown_[p];
    const long double way = middle(p, goal) - present;
    const bool falling = way < -1;  // one level is rounding
    delicate_ =
        delicate_ || (way != 0 && std::fabs(way) < 2 && (!settled || goal.wave != none || last.wave != none));
    const std::uint64_t time = kind == Kind::intensity && falling ? timing.down : timing.up;
    // Nothing moves where both ends are one.
    const auto at_rest = [&](Goal side) {
        return side.wave == none || (kind == Kind::intensity && side.level == 0);
    };
    const bool no_way =
        way == 0 && at_rest(goal) && (!settled || (at_rest(last) && last.level == goal.level));
    moves_[p].push_back({g, g + (no_way ? 0 : timing.delay * roll_.refresh),
                         no_way ? 0 : time * roll_.refresh, timing.curve, falling, goal,
                         settled ? std::nullopt : std::optional(shown_[p])});
}

void Model::begin_wave(std::uint32_t wave, Tick g) {
    const std::uint32_t before = roll_.waves[wave].continues;
    begun_[wave].push_back({g, before != none && !begun_[before].empty() ? phase(before, g) : Rational(0)});
}

void Model::begin_cue(std::uint32_t index, Tick g) {
    current_ = index;
    pending_.reset();
    for (std::uint32_t p = 0; p < moves_.size(); ++p) {
        before_[p] = moves_[p].size();
        shown_[p] = value(p, before_[p], g);
    }
}

void Model::start_cue(std::uint32_t index, Tick g) {
    begin_cue(index, g);
    const auto& cue = roll_.cues[index];
    for (const std::uint32_t wave : cue.starts) begin_wave(wave, g);
    for (const auto& set : cue.sets)
        for (const auto& run : set.runs)
            for (std::uint32_t i = 0; i < run.level.size(); ++i)
                state(run.parameter + i, {run.level[i], run.wave.empty() ? none : run.wave[i]}, set.timing,
                      g);
    if (index + 1 == roll_.cues.size()) return;
    if (cue.next == runtime::Next::follow) pending_ = g + (cue.complete_ms + cue.next_ms) * roll_.refresh;
    if (cue.next == runtime::Next::next_at) pending_ = g + cue.next_ms * roll_.refresh;
}

std::vector<Model::Goal> Model::picture(std::uint32_t cue) const {
    std::vector<Goal> goals;
    for (const Level home : roll_.parameters.home) goals.push_back({home, none});
    for (std::uint32_t i = 0; i <= cue; ++i)
        for (const auto& set : roll_.cues[i].sets)
            for (const auto& run : set.runs)
                for (std::uint32_t k = 0; k < run.level.size(); ++k)
                    goals[run.parameter + k] = {run.level[k], run.wave.empty() ? none : run.wave[k]};
    return goals;
}

void Model::advance(Tick t) {
    while (pending_ && *pending_ <= t) start_cue(current_ + 1, *pending_);
}

bool Model::go(Tick t) {
    if (t > 0) advance(t - 1);
    const std::uint32_t next = current_ == none ? 0 : current_ + 1;
    if (next >= roll_.cues.size()) return false;
    start_cue(next, t);
    return true;
}

bool Model::back(Tick t) {
    if (t > 0) advance(t - 1);
    if (current_ == none || current_ == 0) return false;
    const std::uint32_t cue = current_ - 1;
    begin_cue(cue, t);
    const std::vector<Goal> goals = picture(cue);
    const auto& header = roll_.cues[cue];
    for (std::uint32_t p = 0; p < goals.size(); ++p) {
        const Kind kind = roll_.parameters.kind[p];
        state(p, goals[p],
              kind == Kind::intensity  ? header.intensity
              : kind == Kind::colour   ? header.colour
              : kind == Kind::position ? header.position
                                       : header.beam,
              t);
    }
    return true;
}

}  // namespace tallow::test
