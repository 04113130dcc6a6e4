#include "runtime/engine/running_chases.hpp"

#include <algorithm>

#include "runtime/engine/fade_clock.hpp"
#include "runtime/engine/wave_row.hpp"

namespace tallow::runtime {

RunningChases::RunningChases(const Roll& roll) : roll_(roll), chases_(roll.chases.size()) {
    for (std::uint32_t c = 0; c < roll.chases.size(); ++c) {
        const Chase& chase = roll.chases[c];
        const std::size_t n = chase.parameter.size();
        chases_[c].first_row = static_cast<std::uint32_t>(chase_of_.size());
        chase_of_.insert(chase_of_.end(), n, c);
        Tick end = 0;
        ends_.emplace_back();
        for (const Chase::Step& step : chase.steps) ends_.back().push_back(end += step.ms * roll.refresh);
        for (std::size_t i = 0; i < n; ++i) {
            low_.push_back(chase.level[i]);
            high_.push_back(chase.level[i]);
            for (std::size_t at = i; at < chase.level.size(); at += n) {
                low_.back() = std::min(low_.back(), chase.level[at]);
                high_.back() = std::max(high_.back(), chase.level[at]);
            }
        }
    }
    level_.resize(chase_of_.size());
    live_.reserve(chases_.size());
}

std::uint32_t RunningChases::row(std::uint32_t chase, std::uint32_t parameter) const {
    return chases_[chase].first_row + row_of(roll_.chases[chase], parameter);
}

void RunningChases::want_none() {
    for (const std::uint32_t chase : live_) chases_[chase].wanted = false;
    live_.clear();
}

void RunningChases::want(std::uint32_t row) {
    const std::uint32_t chase = chase_of_[row];
    if (!chases_[chase].wanted) live_.push_back(chase);
    chases_[chase].wanted = true;
}

RunningChases::Place RunningChases::place(std::uint32_t chase, Tick t) const {
    const auto& steps = roll_.chases[chase].steps;
    const auto& ends = ends_[chase];
    const std::size_t last = steps.size() - 1;
    Tick elapsed = t - chases_[chase].began.value_or(t);
    const bool first_round = elapsed < ends.back();
    if (!first_round && !roll_.chases[chase].loop) return {last, last, whole};
    elapsed %= ends.back();
    const auto step =
        static_cast<std::size_t>(std::upper_bound(ends.begin(), ends.end(), elapsed) - ends.begin());
    if (step == 0 && first_round) return {0, 0, whole};
    const Tick begun = step == 0 ? 0 : ends[step - 1];
    const FadeTime fade{begun, steps[step].fade_ms * roll_.refresh, Curve::linear};
    return {step == 0 ? last : step - 1, step, weigh(fade, elapsed).rising};
}

void RunningChases::evaluate(Tick t) {
    for (const std::uint32_t c : live_) {
        const Chase& chase = roll_.chases[c];
        const std::size_t n = chase.parameter.size();
        const auto [from_step, to_step, weight] = place(c, t);
        const Level* const from = chase.level.data() + from_step * n;
        const Level* const to = chase.level.data() + to_step * n;
        Level* const out = level_.data() + chases_[c].first_row;
        for (std::size_t i = 0; i < n; ++i)
            out[i] = chase.jumps[i] != 0 ? to[i] : blend(from[i], to[i], weight);
    }
}

}  // namespace tallow::runtime
