// What a GO does to one parameter.
//
// A parameter is settled on its `to` side, or in a fade from its `from` side to its `to` side. Stating a
// value makes a new `to` side. Of a settled parameter the old `to` side becomes `from` and goes on running,
// its wave too; of one in a fade the present value is held as `from`: so the output never jumps, and no side
// ever holds another fade.
#include "runtime/stage.hpp"

namespace tallow::runtime {

// Between which values a wave's row moves a parameter: an intensity is scaled, a position has it added,
// a colour or beam value is replaced.
Stage::Ends Stage::ends(std::uint32_t p, Level level, std::uint32_t row) const {
    const std::int32_t low = waves_.low(row), high = waves_.high(row);
    switch (rig_.kind[p]) {
        case Kind::intensity:
            return {scaled(level, static_cast<Level>(low)), scaled(level, static_cast<Level>(high))};
        case Kind::position:
            return {level + low, level + high};
        default:
            return {low, high};
    }
}

// Twice the value to judge rising and falling by: a wave counts with the middle of its range.
std::int32_t Stage::twice_middle(std::uint32_t p, Level level, std::uint32_t row) const {
    if (row == none) return 2 * std::int32_t{level};
    const auto [low, high] = ends(p, level, row);
    return low + high;
}

// Whether a side stays at its level: no wave, or a wave that scales nothing.
bool Stage::still(std::uint32_t p, const Side& side) const {
    return side.row[p] == none || (rig_.kind[p] == Kind::intensity && side.level[p] == 0);
}

bool Stage::in_dark(std::uint32_t p) const {
    for (std::uint32_t above = rig_.under[p]; above != none; above = rig_.under[above])
        if (dark_[above]) return true;
    return false;
}

std::uint32_t Stage::lane_for(std::uint32_t p, bool falling, Passage& passage) {
    const Timing& timing = passage.timing;
    const bool down = falling && rig_.kind[p] == Kind::intensity && timing.down != timing.up;
    std::uint32_t& clock = passage.clock[down ? 1 : 0];
    if (clock == none) {
        const Tick start = passage.go + timing.delay * ticks_per_ms_;
        clock = clocks_.add({start, (down ? timing.down : timing.up) * ticks_per_ms_, timing.curve});
    }
    return clocks_.lane(clock, falling);
}

void Stage::state(std::uint32_t p, Level level, std::uint32_t wave, Passage& passage) {
    if (wave != none && !waves_.has_run(wave)) waves_.start(wave, passage.go);
    const std::uint32_t row = waves_.row(wave, p);
    const bool in_fade = lane_[p] != FadeClocks::no_lane;
    if (!in_fade && to_.level[p] == level && to_.row[p] == row) return;

    const std::int32_t present =
        twice_middle(p, in_fade ? now_[p] : to_.level[p], in_fade ? none : to_.row[p]);
    const bool falling = present > twice_middle(p, level, row) + 2;  // one level is rounding
    if (in_fade) clocks_.release(lane_[p]);
    from_.level[p] = in_fade ? now_[p] : to_.level[p];
    from_.row[p] = in_fade ? none : to_.row[p];
    from_.value[p] = from_.level[p];
    to_.level[p] = to_.value[p] = level;
    to_.row[p] = row;
    stale_ = true;

    const bool at_once = rig_.kind[p] != Kind::intensity && in_dark(p);
    const bool no_way = from_.level[p] == level && still(p, from_) && still(p, to_);
    lane_[p] = FadeClocks::no_lane;
    if (at_once || no_way) return settle(p);
    lane_[p] = lane_for(p, falling, passage);
    clocks_.hold(lane_[p]);
}

void Stage::settle(std::uint32_t p) {
    now_[p] = to_.value[p];
    from_.row[p] = none;
    touch(p);
}

void Stage::touch(std::uint32_t p) {
    if (lands_[p] == none) return;
    touched_[lands_[p]] = 1;
    any_touched_ = true;
}

}  // namespace tallow::runtime
