// The loops of a tick. Locals are `restrict`, and each loop goes over neighbouring elements of a few columns,
// so that the compiler can work on several at once.
#include <algorithm>

#include "runtime/stage.hpp"

namespace tallow::runtime {
namespace {

Level clamped(std::int32_t v) {
    return static_cast<Level>(std::clamp<std::int32_t>(v, 0, full));
}

template <class Combine>
void combine_run(const Level* __restrict level, const std::int32_t* __restrict value, Level* __restrict out,
                 std::size_t count, Combine combine) {
    for (std::size_t i = 0; i < count; ++i) out[i] = combine(level[i], value[i]);
}

}  // namespace

void Stage::evaluate(Tick t) {
    if (stale_) plan();
    const bool complete = clocks_.weigh_all(t);
    waves_.evaluate(t);
    for (const WaveRun& run : waving_) apply_wave(run);
    for (const FadeRun& run : runs_) blend_run(run);
    if (complete) plan();
}

// An intensity is scaled by its wave, a colour replaced, a position or beam value moved.
void Stage::apply_wave(const WaveRun& run) {
    const Side& side = run.target == Target::from ? from_ : to_;
    const Level* const level = side.level.data() + run.first;
    const std::int32_t* const value = waves_.values() + run.row;
    Level* const column = run.target == Target::now  ? now_.data()
                          : run.target == Target::to ? to_.value.data()
                                                     : from_.value.data();
    Level* const out = column + run.first;
    switch (run.kind) {
        case Kind::intensity:
            combine_run(level, value, out, run.count,
                        [](Level a, std::int32_t v) { return scaled(a, static_cast<Level>(v)); });
            break;
        case Kind::colour:
            combine_run(level, value, out, run.count,
                        [](Level, std::int32_t v) { return static_cast<Level>(v); });
            break;
        case Kind::position:
        case Kind::beam:
            combine_run(level, value, out, run.count, [](Level a, std::int32_t v) { return clamped(a + v); });
            break;
    }
}

void Stage::blend_run(const FadeRun& run) {
    const Level* const __restrict from = from_.value.data() + run.first;
    const Level* const __restrict to = to_.value.data() + run.first;
    Level* const __restrict now = now_.data() + run.first;
    const Weight* const __restrict weights = clocks_.weights();
    if (run.lane != FadeClocks::no_lane) {
        const Weight w = weights[run.lane];
        for (std::uint32_t i = 0; i < run.count; ++i) now[i] = blend(from[i], to[i], w);
    } else {
        const std::uint32_t* const __restrict lane = lane_.data() + run.first;
        for (std::uint32_t i = 0; i < run.count; ++i) now[i] = blend(from[i], to[i], weights[lane[i]]);
    }
}

}  // namespace tallow::runtime
