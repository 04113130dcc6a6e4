// What is shown at an instant.
#include "tests/support/model.hpp"

#include <algorithm>
#include <cmath>

#include "runtime/engine/wave_row.hpp"

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
    const auto& rig = roll_.parameters;
    for (std::uint32_t p = 0; p < rig.size(); ++p) {
        const Line at_home{p, {{0, 0, Curve::linear, false, {rig.home[p], none}, {}}}};
        lines_.emplace_back(rig.kind[p] == Kind::intensity ? roll_.lists.size() : 1, at_home);
    }
    begun_.resize(roll_.waves.size() + roll_.chases.size());
    lists_.resize(roll_.lists.size());
    for (List& list : lists_) list.said.resize(rig.size());
    positions_.resize(roll_.submasters.size());
}

const Model::Line& Model::line(std::uint32_t list, std::uint32_t p) const {
    return lines_[p][roll_.parameters.kind[p] == Kind::intensity ? list : 0];
}
Model::Line& Model::line(std::uint32_t list, std::uint32_t p) {
    return lines_[p][roll_.parameters.kind[p] == Kind::intensity ? list : 0];
}

// The latest beginning of a wave or chase up to t, or null.
const Model::Begun* Model::begun(std::uint32_t source, Tick t) const {
    const Begun* latest = nullptr;
    for (const Begun& begun : begun_[source])
        if (begun.at <= t) latest = &begun;
    return latest;
}

Rational Model::phase(std::uint32_t wave, Tick t) const {
    const Begun* const last = begun(wave, t);
    if (!last) return 0;
    return last->phase + Rational(static_cast<std::int64_t>(t - last->at),
                                  static_cast<std::int64_t>(roll_.waves[wave].period * roll_.refresh));
}

std::vector<long double> Model::steps_of(std::uint32_t p, std::uint32_t source) const {
    const auto& of = chase(source);
    std::vector<long double> levels;
    for (std::size_t at = runtime::row_of(of, p); at < of.level.size(); at += of.parameter.size())
        levels.push_back(of.level[at]);
    return levels;
}

// Goes through the steps one by one from the chase's beginning.
long double Model::chase_value(std::uint32_t p, std::uint32_t source, Tick t) const {
    const auto& of = chase(source);
    const std::vector<long double> levels = steps_of(p, source);
    const Begun* const last = begun(source, t);
    if (!last) return levels[0];
    const bool jumps = of.jumps[runtime::row_of(of, p)] != 0;
    std::uint64_t round = 0;
    for (const auto& step : of.steps) round += step.ms * roll_.refresh;
    Tick left = t - last->at + last->age;
    if (left >= round && !of.loop) return levels.back();
    long double before = left < round ? levels[0] : levels.back();
    left %= round;
    for (std::size_t i = 0;; ++i) {
        const Tick length = of.steps[i].ms * roll_.refresh, fade = of.steps[i].fade_ms * roll_.refresh;
        if (left < length) {
            if (left >= fade || jumps) return levels[i];
            const long double way = static_cast<long double>(left) / static_cast<long double>(fade);
            return before + (levels[i] - before) * way;
        }
        left -= length;
        before = levels[i];
    }
}

// A side that runs: its level with its wave, or the chase in its place, 0..65535.
long double Model::goal_value(std::uint32_t p, Goal goal, Tick t) const {
    if (goal.source == none) return goal.level;
    if (is_chase(goal.source)) return chase_value(p, goal.source, t);
    const auto& wave = roll_.waves[goal.source];
    const std::uint32_t row = runtime::row_of(wave, p);
    const long double w = exact_.shapes[wave.waveform].at(
        phase(goal.source, t) + exact_.offsets[goal.source][row], wave.member[row]);
    const long double moved = wave.low[row] + (wave.high[row] - wave.low[row]) * w;
    if (roll_.parameters.kind[p] == Kind::intensity) return goal.level * moved / full;
    if (roll_.parameters.kind[p] != Kind::position) return moved;
    return std::clamp<long double>(goal.level + moved, 0, full);
}

long double Model::middle(std::uint32_t p, Goal goal) const {
    if (goal.source == none) return goal.level;
    if (is_chase(goal.source)) {
        const std::vector<long double> levels = steps_of(p, goal.source);
        const auto [low, high] = std::minmax_element(levels.begin(), levels.end());
        return (*low + *high) / 2;
    }
    const auto& wave = roll_.waves[goal.source];
    const std::uint32_t row = runtime::row_of(wave, p);
    const long double mid = (wave.low[row] + wave.high[row]) / 2.0L;
    if (roll_.parameters.kind[p] == Kind::intensity) return goal.level * mid / full;
    return roll_.parameters.kind[p] == Kind::position ? goal.level + mid : mid;
}

bool Model::complete(const Line& line, std::size_t moves, Tick t) const {
    const Move& move = line.moves[moves - 1];
    return t >= move.start + move.duration;
}

// The value at t of a line to which only its first so many moves were said.
long double Model::value(const Line& line, std::size_t moves, Tick t) const {
    const Move& move = line.moves[moves - 1];
    if (complete(line, moves, t)) return goal_value(line.parameter, move.goal, t);
    const long double along =
        t <= move.start ? 0
                        : static_cast<long double>(t - move.start) / static_cast<long double>(move.duration);
    const long double c = curve_at(move.curve, move.falling, along);
    const long double old =
        move.held ? *move.held : goal_value(line.parameter, line.moves[moves - 2].goal, t);
    return (1 - c) * old + c * goal_value(line.parameter, move.goal, t);
}

// Of an intensity the highest of what counts, or home; then submasters, the grand master, the panic look,
// floors.
long double Model::value(std::uint32_t p, Tick t) const {
    const bool intensity = roll_.parameters.kind[p] == Kind::intensity;
    std::optional<long double> highest;
    for (const Line& line : lines_[p])
        if (!intensity || counts(line, t))
            highest = std::max(highest.value_or(0), value(line, line.moves.size(), t));
    long double v = with_submasters(p, highest.value_or(roll_.parameters.home[p]), t);
    if (intensity && roll_.parameters.under[p] == none) v *= blackout_ ? 0 : master_ / full;
    for (const auto& run : roll_.panic)
        if (const std::uint32_t k = p - run.parameter; panic_ && k < run.level.size())
            v = intensity ? std::max<long double>(v, run.level[k]) : run.level[k];
    for (const auto& run : roll_.keeps)
        if (p - run.parameter < run.level.size()) v = std::max<long double>(v, run.level[p - run.parameter]);
    return v;
}

long double Model::with_submasters(std::uint32_t p, long double v, Tick t) const {
    for (std::size_t i = 0; i < positions_.size(); ++i) {
        const auto& submaster = roll_.submasters[i];
        if (positions_[i] == 0) continue;
        const long double position = positions_[i] / full;
        bool jumps = false;
        for (const auto& s : submaster.jumps) jumps = jumps || p - s.parameter < s.count;
        for (const auto& run : submaster.runs) {
            const std::uint32_t k = p - run.parameter;
            if (k >= run.level.size()) continue;
            const Goal goal{run.level[k], run.wave.empty() ? none : run.wave[k]};
            const long double own = goal_value(p, goal, t);
            if (roll_.parameters.kind[p] == Kind::intensity)
                v = std::max(v, own * position);
            else
                v = jumps ? own : v + (own - v) * position;
        }
    }
    return v;
}

// Straight lines from knot to knot, of 0..1.
long double Model::through_response(std::uint32_t p, long double v) const {
    for (const auto& response : roll_.responses)
        for (const auto& on : response.on) {
            if (p - on.parameter >= on.count) continue;
            std::size_t i = 1;
            while (i + 1 < response.level.size() && response.level[i] < v * full) ++i;
            const long double from = response.level[i - 1], to = response.level[i];
            const long double low = response.slot[i - 1], high = response.slot[i];
            return (low + (high - low) * (v * full - from) / (to - from)) / full;
        }
    return v;
}

long double Model::shown(std::uint32_t p, Tick t) const {
    const std::uint32_t above = roll_.parameters.under[p];
    const long double own = value(p, t) / full;
    const bool scaled_by_it = roll_.parameters.kind[p] == Kind::colour;
    if (above == none || roll_.parameters.universe[above] != none || !scaled_by_it)
        return through_response(p, own);
    return through_response(p, own * through_response(above, value(above, t) / full));
}

}  // namespace tallow::test
