#include "runtime/engine/running_waves.hpp"

#include <algorithm>
#include <span>

#include "runtime/engine/wave_row.hpp"

namespace tallow::runtime {

RunningWaves::RunningWaves(const Roll& roll) : roll_(roll), waves_(roll.waves.size()) {
    for (const Waveform& form : roll.waveforms) forms_.emplace_back(form);
    for (std::uint32_t w = 0; w < roll.waves.size(); ++w) {
        waves_[w].first_row = static_cast<std::uint32_t>(wave_of_.size());
        wave_of_.insert(wave_of_.end(), roll.waves[w].parameter.size(), w);
        find_steps(w);
    }
    step_weight_.resize(step_offset_.size());
    weight_.resize(wave_of_.size());
    live_.reserve(waves_.size());
}

// Adds the steps of a wave's rows, or none where each row would be one of its own.
void RunningWaves::find_steps(std::uint32_t wave) {
    const Wave& rows = roll_.waves[wave];
    const bool by_member = roll_.waveforms[rows.waveform].shape == Waveform::Shape::flicker;
    const std::size_t before = step_offset_.size();
    for (std::size_t i = 0; i < rows.offset.size(); ++i) {
        const bool same = i > 0 && rows.offset[i] == rows.offset[i - 1] &&
                          (!by_member || rows.member[i] == rows.member[i - 1]);
        if (!same) {
            step_offset_.push_back(rows.offset[i]);
            step_member_.push_back(rows.member[i]);
        }
        step_of_.push_back(static_cast<std::uint32_t>(step_offset_.size() - 1));
    }
    waves_[wave].shares = step_offset_.size() - before < rows.offset.size();
    if (waves_[wave].shares) return;
    step_offset_.resize(before);
    step_member_.resize(before);
}

std::uint32_t RunningWaves::row(std::uint32_t wave, std::uint32_t parameter) const {
    return waves_[wave].first_row + row_of(roll_.waves[wave], parameter);
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
    waves_[wave].time = {g, before != none && has_run(before) ? turns(before, g) : 0};
}

Turns turns_in(const Wave& wave, Tick elapsed, std::uint32_t refresh) {
    const Tick period = wave.period * refresh;  // a millisecond is `refresh` ticks
    const Turns part = ((Turns{elapsed % period} << 64) + period / 2) / period;
    return (Turns{elapsed / period} << 64) + part;
}

Turns RunningWaves::turns(std::uint32_t wave, Tick t) const {
    const SourceTime& time = waves_[wave].time;
    return time.began ? time.carried + turns_in(roll_.waves[wave], t - *time.began, roll_.refresh) : 0;
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
        const Running& running = waves_[wave];
        const std::uint32_t from = running.wanted_from, to = running.wanted_to;
        if (running.shares) {
            evaluate_steps(wave, turns(wave, t), running.first_row + from, running.first_row + to);
        } else {
            const auto out = std::span(weight_).subspan(running.first_row + from, to - from);
            forms_[rows.waveform].evaluate(turns(wave, t), rows.offset.data() + from,
                                           rows.member.data() + from, out);
        }
    }
}

// Rows `from` to `to` among all rows, half-open.
void RunningWaves::evaluate_steps(std::uint32_t wave, Turns turns, std::uint32_t from, std::uint32_t to) {
    const std::uint32_t first = step_of_[from], count = step_of_[to - 1] + 1 - first;
    forms_[roll_.waves[wave].waveform].evaluate(turns, step_offset_.data() + first,
                                                step_member_.data() + first,
                                                std::span(step_weight_).subspan(first, count));
    const std::uint32_t* const __restrict step = step_of_.data();
    const Weight* const __restrict weight = step_weight_.data();
    Weight* const __restrict out = weight_.data();
    for (std::uint32_t row = from; row < to; ++row) out[row] = weight[step[row]];
}

}  // namespace tallow::runtime
