// The loops of a tick. Locals are `restrict`, and each loop goes over neighbouring elements of a few columns,
// so that the compiler can work on several at once.
#include <algorithm>

#include "runtime/engine/stage.hpp"

namespace tallow::runtime {
namespace {

Level clamped(std::int32_t v) {
    return static_cast<Level>(std::clamp<std::int32_t>(v, 0, full));
}

}  // namespace

void Stage::evaluate(Tick t) {
    if (stale_) plan();
    const bool complete = clocks_.weigh_all(t);
    sources_.evaluate(t);
    for (const SourceRun& run : waving_) apply_wave(run);
    for (const SourceRun& run : chasing_) apply_chase(run);
    for (const FadeRun& run : fading_) blend_run(run);
    if (complete) plan();
}

void Stage::apply_wave(const SourceRun& run) {
    Side& on = side(run.target);
    const Weight* const __restrict weight = sources_.waves.weights() + run.source;
    Level* const __restrict out = (run.target == Target::now ? now_ : on.value).data() + run.first;
    if (run.leaves) {
        for (std::uint32_t i = 0; i < run.count; ++i) {
            const auto [low, high] = ends(run.first + i, on.level[run.first + i], run.source + i);
            const std::int64_t way = std::int64_t{high - low} * weight[i] + 32768;
            out[i] = clamped(low + static_cast<std::int32_t>(way >> 16));
        }
    } else {
        const Level* const __restrict low = on.low.data() + run.first;
        const Level* const __restrict high = on.high.data() + run.first;
        for (std::uint32_t i = 0; i < run.count; ++i) out[i] = blend(low[i], high[i], weight[i]);
    }
}

void Stage::apply_chase(const SourceRun& run) {
    const Level* const from = sources_.chases.levels() + run.source;
    std::copy_n(from, run.count,
                (run.target == Target::now ? now_ : side(run.target).value).data() + run.first);
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
