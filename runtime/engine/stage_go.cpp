// What a GO does to one row.
//
// A row is settled on its `to` side, or in a fade from its `from` side to its `to` side. Stating a value
// makes a new `to` side. Of a settled row the old `to` side becomes `from` and goes on running, its wave or
// chase too; of one in a fade the present value is held as `from`: so the output never jumps, and no side
// ever holds another fade.
#include "runtime/engine/stage.hpp"

namespace tallow::runtime {

// Between which values a wave moves a row: an intensity is scaled, a position has it added, a colour or beam
// value is replaced.
Stage::Ends Stage::ends(std::uint32_t row, Level level, std::uint32_t source) const {
    const std::int32_t low = sources_.waves.low(source), high = sources_.waves.high(source);
    switch (kind_[row]) {
        case Kind::intensity:
            return {scaled(level, static_cast<Level>(low)), scaled(level, static_cast<Level>(high))};
        case Kind::position:
            return {level + low, level + high};
        default:
            return {low, high};
    }
}

// Twice the value to judge rising and falling by: a wave or chase counts with the middle of its range.
std::int32_t Stage::twice_middle(std::uint32_t row, Level level, std::uint32_t source) const {
    if (source == none) return 2 * std::int32_t{level};
    if (sources_.is_chase(source)) {
        const std::uint32_t chase = sources_.chase_row(source);
        return std::int32_t{sources_.chases.low(chase)} + sources_.chases.high(chase);
    }
    const auto [low, high] = ends(row, level, source);
    return low + high;
}

// Whether a side stays at its level: nothing on it, or a wave that scales nothing.
bool Stage::still(std::uint32_t row, const Side& side) const {
    const std::uint32_t source = side.source[row];
    return source == none ||
           (kind_[row] == Kind::intensity && side.level[row] == 0 && !sources_.is_chase(source));
}

// Whether a side of an intensity gives no light: a chase takes the place of the level beneath.
bool Stage::at_zero(std::uint32_t row, const Side& side) const {
    const std::uint32_t source = side.source[row];
    if (sources_.is_chase(source)) return sources_.chases.high(sources_.chase_row(source)) == 0;
    return side.level[row] == 0;
}

std::uint32_t Stage::lane_for(std::uint32_t row, bool falling, Passage& passage) {
    const Timing& timing = passage.timing;
    const bool down = falling && kind_[row] == Kind::intensity && timing.down != timing.up;
    std::uint32_t& clock = passage.clock[down ? 1 : 0];
    if (clock == none) {
        const Tick start = passage.go + timing.delay * ticks_per_ms_;
        clock = clocks_.add({start, (down ? timing.down : timing.up) * ticks_per_ms_, timing.curve});
    }
    return clocks_.lane(clock, falling);
}

void Stage::state(std::uint32_t row, Level level, std::uint32_t source, Passage& passage, bool at_once) {
    if (source != none && !sources_.has_run(source)) sources_.start(source, passage.go);
    const std::uint32_t to_source = sources_.row(source, parameter_[row]);
    const bool fades = in_fade(row);
    if (!fades && goes_to(row, level, source)) return;

    const std::int32_t present =
        twice_middle(row, fades ? now_[row] : to_.level[row], fades ? none : to_.source[row]);
    const bool falling = present > twice_middle(row, level, to_source) + 2;  // one level is rounding
    if (fades) clocks_.release(lane_[row]);
    from_.level[row] = fades ? now_[row] : to_.level[row];
    from_.source[row] = fades ? none : to_.source[row];
    from_.value[row] = from_.level[row];
    to_.level[row] = to_.value[row] = level;
    to_.source[row] = to_source;
    stale_ = true;

    const bool no_way = from_.level[row] == level && still(row, from_) && still(row, to_);
    lane_[row] = FadeClocks::no_lane;
    if (at_once || no_way) return settle(row);
    lane_[row] = lane_for(row, falling, passage);
    clocks_.hold(lane_[row]);
}

void Stage::put(std::uint32_t row, Level level, std::uint32_t source, Tick g) {
    if (source != none && !sources_.has_run(source)) sources_.start(source, g);
    if (in_fade(row)) clocks_.release(lane_[row]);
    lane_[row] = FadeClocks::no_lane;
    to_.level[row] = to_.value[row] = level;
    to_.source[row] = sources_.row(source, parameter_[row]);
    stale_ = true;
    settle(row);
}

void Stage::settle(std::uint32_t row) {
    now_[row] = to_.value[row];
    from_.source[row] = none;
    touch(row);
}

void Stage::touch(std::uint32_t row) {
    if (lands_[row] == none) return;
    touched_[lands_[row]] = 1;
    any_touched_ = true;
}

}  // namespace tallow::runtime
