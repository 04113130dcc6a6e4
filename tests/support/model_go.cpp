// What a GO says.
#include <algorithm>
#include <cmath>
#include <utility>

#include "tests/support/model.hpp"

namespace tallow::test {

using runtime::Curve;
using runtime::Kind;
using runtime::none;
using runtime::Tick;

// Whether an intensity gives no light: a chase takes the place of the level beneath.
bool Model::out(std::uint32_t p, Goal goal) const {
    if (!is_chase(goal.source)) return goal.level == 0;
    const std::vector<long double> levels = steps_of(p, goal.source);
    return std::all_of(levels.begin(), levels.end(), [](long double level) { return level == 0; });
}

// At 0 and not on its way elsewhere, before the present GO said anything.
bool Model::dark_line(const Line& line, Tick g) {
    const std::size_t moves = line.moves_before;
    const Move& move = line.moves[moves - 1];
    if (!out(line.parameter, move.goal)) return false;
    if (complete(line, moves, g)) return true;
    if (!move.held) return out(line.parameter, line.moves[moves - 2].goal);
    delicate_ = delicate_ || (*move.held != 0 && *move.held < 2);
    return *move.held == 0;
}

// The same of all lists and submasters together.
bool Model::dark_intensity(std::uint32_t p, Tick g) {
    bool any = false;
    for (const Line& line : lines_[p]) {
        if (!line.stood_before && complete(line, line.moves_before, g)) continue;
        any = true;
        if (!dark_line(line, g)) return false;
    }
    if (!any && roll_.parameters.home[p] != 0) return false;
    for (std::size_t i = 0; i < positions_.size(); ++i)
        for (const auto& run : roll_.submasters[i].runs)
            if (const std::uint32_t k = p - run.parameter; positions_[i] > 0 && k < run.level.size())
                if (!out(p, {run.level[k], run.wave.empty() ? none : run.wave[k]})) return false;
    for (const auto& run : roll_.keeps)
        if (const std::uint32_t k = p - run.parameter; k < run.level.size() && run.level[k] > 0) return false;
    return true;
}

bool Model::dark(std::uint32_t p, Tick g) {
    for (std::uint32_t q = roll_.parameters.under[p]; q != none; q = roll_.parameters.under[q])
        if (dark_intensity(q, g)) return true;
    return false;
}

void Model::begin(std::uint32_t source, Tick g) {
    Rational phase = 0;
    if (!is_chase(source))
        if (const std::uint32_t before = roll_.waves[source].continues;
            before != none && !begun_[before].empty())
            phase = this->phase(before, g);
    begun_[source].push_back({g, phase});
}

void Model::move(Line& line, Goal goal, const runtime::Timing& timing, Tick g) {
    if (goal.source != none && begun_[goal.source].empty()) begin(goal.source, g);
    const std::uint32_t p = line.parameter;
    const Goal last = line.moves.back().goal;
    const bool settled = complete(line, line.moves.size(), g);
    if (settled && last.level == goal.level && last.source == goal.source) return;
    const Kind kind = roll_.parameters.kind[p];
    if (kind != Kind::intensity && dark(p, g)) {
        line.moves.push_back({g, 0, Curve::linear, false, goal, {}});
        return;
    }
    const long double present = settled ? middle(p, last) : line.before;
    const long double way = middle(p, goal) - present;
    const bool falling = way < -1;  // one level is rounding
    delicate_ = delicate_ ||
                (way != 0 && std::fabs(way) < 2 && (!settled || goal.source != none || last.source != none));
    const std::uint64_t time = kind == Kind::intensity && falling ? timing.down : timing.up;
    // Nothing moves where both ends are one.
    const auto at_rest = [&](Goal side) {
        return side.source == none || (kind == Kind::intensity && side.level == 0 && !is_chase(side.source));
    };
    const bool no_way =
        way == 0 && at_rest(goal) && (!settled || (at_rest(last) && last.level == goal.level));
    line.moves.push_back({g + (no_way ? 0 : timing.delay * roll_.refresh), no_way ? 0 : time * roll_.refresh,
                          timing.curve, falling, goal, settled ? std::nullopt : std::optional(line.before)});
}

// A list begins to have a say in an intensity: from 0 beside others, whose light it joins, else from home.
// What others let go of on the way home goes out.
void Model::enter(std::uint32_t list, std::uint32_t p, const runtime::Timing& timing, Tick g) {
    Line& own = line(list, p);
    bool joins = false;
    for (Line& other : lines_[p]) {
        if (&other == &own || !counts(other, g)) continue;
        joins = true;
        if (!other.stands && other.moves.back().goal.level != 0) move(other, {0, none}, timing, g);
    }
    const runtime::Level from = joins ? runtime::Level{0} : roll_.parameters.home[p];
    own.moves.push_back({g, 0, Curve::linear, false, {from, none}, {}});
}

void Model::say(std::uint32_t list, std::uint32_t p, Goal goal, const runtime::Timing& timing, Tick g) {
    lists_[list].said[p] = {goal, order_};
    Line& own = line(list, p);
    if (roll_.parameters.kind[p] == Kind::intensity) {
        if (!counts(own, g)) enter(list, p, timing, g);
        own.stands = true;
    }
    move(own, goal, timing, g);
}

void Model::release(std::uint32_t list, std::uint32_t p, const runtime::Timing& timing, Tick g) {
    const std::optional<Statement> was = std::exchange(lists_[list].said[p], std::nullopt);
    const Goal home{roll_.parameters.home[p], none};
    const Statement* heir = nullptr;
    for (const List& other : lists_)
        if (other.said[p] && (!heir || other.said[p]->order > heir->order)) heir = &*other.said[p];
    Line& own = line(list, p);
    if (roll_.parameters.kind[p] == Kind::intensity) {
        own.stands = false;
        move(own, heir ? Goal{0, none} : home, timing, g);
    } else if (!heir || heir->order < was->order) {
        move(own, heir ? heir->goal : home, timing, g);
    }
}

void Model::begin_cue(std::uint32_t list, std::uint32_t index, Tick g) {
    lists_[list].current = index;
    lists_[list].stopped = false;
    lists_[list].pending.reset();
    begin_at(g);
}

// Something is said from here on: all stands as it was before.
void Model::begin_at(Tick g) {
    ++order_;
    for (auto& lines : lines_)
        for (Line& line : lines) {
            line.moves_before = line.moves.size();
            line.stood_before = line.stands;
            line.before = value(line, line.moves_before, g);
        }
}

void Model::start_cue(std::uint32_t list, std::uint32_t index, Tick g) {
    begin_cue(list, index, g);
    const auto& cue = roll_.cues[index];
    for (const std::uint32_t source : cue.starts) begin(source, g);
    for (const auto& set : cue.sets) {
        for (const auto& run : set.runs)
            for (std::uint32_t i = 0; i < run.level.size(); ++i)
                say(list, run.parameter + i, {run.level[i], run.wave.empty() ? none : run.wave[i]},
                    set.timing, g);
        for (const auto& stretch : set.releases)
            for (std::uint32_t i = 0; i < stretch.count; ++i)
                release(list, stretch.parameter + i, set.timing, g);
    }
    arm(list, g);
}

// What a list stands for when a cue of it was played after all those before.
std::vector<std::optional<Model::Goal>> Model::picture(std::uint32_t list, std::uint32_t cue) const {
    std::vector<std::optional<Goal>> goals(lines_.size());
    for (std::uint32_t i = roll_.lists[list].first; i <= cue; ++i)
        for (const auto& set : roll_.cues[i].sets) {
            for (const auto& run : set.runs)
                for (std::uint32_t k = 0; k < run.level.size(); ++k)
                    goals[run.parameter + k] = {run.level[k], run.wave.empty() ? none : run.wave[k]};
            for (const auto& s : set.releases)
                for (std::uint32_t k = 0; k < s.count; ++k) goals[s.parameter + k].reset();
        }
    return goals;
}

void Model::jump_to(std::uint32_t list, std::uint32_t cue, Tick g, Tick passed) {
    begin_cue(list, cue, g);
    const auto& header = roll_.cues[cue];
    const auto goals = picture(list, cue);
    std::vector<bool> held(begun_.size());
    for (const auto& goal : goals)
        if (goal && goal->source != none) held[goal->source] = true;
    for (std::uint32_t source = 0; source < held.size(); ++source)
        if (held[source] && !runs(source, g)) place(list, source, cue, g, passed);
    for (std::uint32_t p = 0; p < goals.size(); ++p) {
        const Kind kind = roll_.parameters.kind[p];
        const auto& timing = kind == Kind::intensity  ? header.intensity
                             : kind == Kind::colour   ? header.colour
                             : kind == Kind::position ? header.position
                                                      : header.beam;
        if (goals[p])
            say(list, p, *goals[p], timing, g);
        else if (lists_[list].said[p])
            release(list, p, timing, g);
    }
}

// Whether something is moved by a wave or chase, or still on its way out of it.
bool Model::runs(std::uint32_t source, Tick g) const {
    for (const auto& lines : lines_)
        for (const Line& line : lines) {
            const Move& move = line.moves.back();
            if (move.goal.source == source) return true;
            if (complete(line, line.moves.size(), g) || move.held) continue;
            if (line.moves[line.moves.size() - 2].goal.source == source) return true;
        }
    for (std::size_t i = 0; i < positions_.size(); ++i)
        for (const auto& run : roll_.submasters[i].runs)
            if (positions_[i] > 0 && std::count(run.wave.begin(), run.wave.end(), source) > 0) return true;
    return false;
}

// Where straight play would have it so long after the GO of a cue, if that is known; else at its beginning.
void Model::place(std::uint32_t list, std::uint32_t source, std::uint32_t cue, Tick g, Tick passed) {
    const std::uint32_t from = beginner(list, source, cue);
    const auto ran = from == none ? std::nullopt : distance(from, cue);
    Begun begun{g, 0, ran ? *ran + passed : 0};
    if (!is_chase(source) && ran)
        begun.phase = taken_over(list, source, from) +
                      Rational(static_cast<std::int64_t>(begun.age),
                               static_cast<std::int64_t>(roll_.waves[source].period * roll_.refresh));
    begun_[source].push_back(begun);
}

// The last cue of a list up to `cue` that begins a wave or chase.
std::uint32_t Model::beginner(std::uint32_t list, std::uint32_t source, std::uint32_t cue) const {
    std::uint32_t last = none;
    for (std::uint32_t i = roll_.lists[list].first; i <= cue; ++i) {
        const auto& starts = roll_.cues[i].starts;
        if (std::count(starts.begin(), starts.end(), source) > 0) last = i;
    }
    return last;
}

// The phase that a wave has from the one that it continues, when a cue begins it.
Rational Model::taken_over(std::uint32_t list, std::uint32_t wave, std::uint32_t cue) const {
    const std::uint32_t before = roll_.waves[wave].continues;
    if (before == none || cue == roll_.lists[list].first) return 0;
    const std::uint32_t from = beginner(list, before, cue - 1);
    const auto ran = from == none ? std::nullopt : distance(from, cue);
    if (!ran) return 0;
    return taken_over(list, before, from) +
           Rational(static_cast<std::int64_t>(*ran),
                    static_cast<std::int64_t>(roll_.waves[before].period * roll_.refresh));
}

void Model::stop(std::uint32_t list, std::uint64_t ms, Tick t) {
    if (t > 0) advance(t - 1);
    begin_at(t);
    const runtime::Timing light{0, ms, ms, Curve::linear}, rest{ms, 0, 0, Curve::linear};
    for (std::uint32_t p = 0; p < lines_.size(); ++p)
        if (lists_[list].said[p])
            release(list, p, roll_.parameters.kind[p] == Kind::intensity ? light : rest, t);
    lists_[list].stopped = lists_[list].current != none;
    lists_[list].pending.reset();
}

}  // namespace tallow::test
