#include "runtime/running_waves.hpp"

#include <algorithm>
#include <utility>

#include "runtime/wave_row.hpp"

namespace tallow::runtime {

RunningWaves::RunningWaves(const Roll& roll) : roll_(roll), waves_(roll.waves.size()) {
    for (const Waveform& form : roll.waveforms) forms_.emplace_back(form);
    for (std::uint32_t w = 0; w < roll.waves.size(); ++w) {
        waves_[w].first_row = static_cast<std::uint32_t>(wave_of_.size());
        wave_of_.insert(wave_of_.end(), roll.waves[w].parameter.size(), w);
    }
    weight_.resize(wave_of_.size());
    live_.reserve(waves_.size());
}

std::uint32_t RunningWaves::row(std::uint32_t wave, std::uint32_t parameter) const {
    return wave == none ? none : waves_[wave].first_row + row_of(roll_.waves[wave], parameter);
}

std::int32_t RunningWaves::low(std::uint32_t row) const {
    const std::uint32_t wave = wave_of_[row];
    return roll_.waves[wave].low[row - waves_[wave].first_row];
}

std::int32_t RunningWaves::high(std::uint32_t row) const {
    const std::uint32_t wave = wave_of_[row];
    return roll_.waves[wave].high[row - waves_[wave].first_row];
}

void RunningWaves::start(std::uint32_t wave, Tick g) {
    const std::uint32_t before = roll_.waves[wave].continues;
    waves_[wave].carried = before != none && has_run(before) ? turns(before, g) : 0;
    waves_[wave].began = g;
}

Turns RunningWaves::turns(std::uint32_t wave, Tick t) const {
    const Running& running = waves_[wave];
    if (!running.began) return 0;
    const Tick elapsed = t - *running.began;
    const Tick period = roll_.waves[wave].period * roll_.refresh;  // a millisecond is `refresh` ticks
    const Turns part = ((Turns{elapsed % period} << 64) + period / 2) / period;
    return running.carried + (Turns{elapsed / period} << 64) + part;
}

void RunningWaves::want_none() {
    for (const std::uint32_t wave : live_) {
        waves_[wave].wanted_from = none;
        waves_[wave].wanted_to = 0;
    }
    live_.clear();
}

void RunningWaves::want(std::uint32_t row) {
    const std::uint32_t wave = wave_of_[row];
    Running& running = waves_[wave];
    if (running.wanted_from == none) live_.push_back(wave);
    const std::uint32_t own = row - running.first_row;
    running.wanted_from = std::min(running.wanted_from, own);
    running.wanted_to = std::max(running.wanted_to, own + 1);
}

void RunningWaves::evaluate(Tick t) {
    for (const std::uint32_t wave : live_) {
        const Wave& rows = roll_.waves[wave];
        const auto [from, to] = std::pair(waves_[wave].wanted_from, waves_[wave].wanted_to);
        const auto out = std::span(weight_).subspan(waves_[wave].first_row + from, to - from);
        forms_[rows.waveform].evaluate(turns(wave, t), rows.offset.data() + from, rows.member.data() + from,
                                       out);
    }
}

}  // namespace tallow::runtime
