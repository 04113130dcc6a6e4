#include "compiler/fit/source_marks.hpp"

#include <algorithm>

namespace tallow::fit {
namespace {

using runtime::none;
using runtime::Roll;
using runtime::Waveform;

Mark mark_of(const Waveform& form) {
    Mark mark;
    mark.add(static_cast<std::uint64_t>(form.shape));
    mark.add(form.seed);
    for (const Waveform::Segment& s : form.segments) {
        mark.add(s.start);
        mark.add(s.from);
        mark.add(s.to);
    }
    return mark;
}

std::uint64_t word(std::int32_t value) {
    return static_cast<std::uint64_t>(std::int64_t{value});
}

}  // namespace

std::size_t place_in(const std::vector<std::uint32_t>& parameters, std::uint32_t parameter) {
    return static_cast<std::size_t>(std::lower_bound(parameters.begin(), parameters.end(), parameter) -
                                    parameters.begin());
}

SourceMarks::SourceMarks(const Roll& roll)
    : roll_(roll),
      starts_(roll.waves.size() + roll.chases.size()),
      whole_(roll.waves.size() + roll.chases.size()) {
    mark_starts();
    mark_waves();
    mark_chases();
}

void SourceMarks::mark_starts() {
    for (std::uint32_t cue = 0; cue < roll_.cues.size(); ++cue)
        for (const std::uint32_t source : roll_.cues[cue].starts) starts_[source].add(2 * cue);
    for (std::uint32_t i = 0; i < roll_.submasters.size(); ++i)
        for (const std::uint32_t source : roll_.submasters[i].starts) starts_[source].add(2 * i + 1);
}

// Waves in phase are begun together, at one period; so were those whose phase they took over.
void SourceMarks::mark_waves() {
    std::vector<Mark> forms;
    for (const Waveform& form : roll_.waveforms) forms.push_back(mark_of(form));
    for (std::uint32_t w = 0; w < roll_.waves.size(); ++w) {
        whole_[w].add(forms[roll_.waves[w].waveform]);
        std::uint32_t clock = w;
        for (std::size_t steps = 0; clock != none && steps <= roll_.waves.size(); ++steps) {
            whole_[w].add(roll_.waves[clock].period);
            whole_[w].add(starts_[clock]);
            clock = roll_.waves[clock].continues;
        }
    }
}

void SourceMarks::mark_chases() {
    for (std::uint32_t c = 0; c < roll_.chases.size(); ++c) {
        Mark& mark = whole_[roll_.waves.size() + c];
        mark.add(starts_[roll_.waves.size() + c]);
        mark.add(roll_.chases[c].loop);
        for (const runtime::Chase::Step& step : roll_.chases[c].steps) {
            mark.add(step.ms);
            mark.add(step.fade_ms);
        }
    }
}

Mark SourceMarks::on(std::uint32_t source, std::uint32_t parameter) const {
    Mark mark = whole_[source];
    if (source >= roll_.waves.size()) {
        const runtime::Chase& chase = roll_.chases[source - roll_.waves.size()];
        const std::size_t column = place_in(chase.parameter, parameter);
        mark.add(chase.jumps[column]);
        for (std::size_t at = column; at < chase.level.size(); at += chase.parameter.size())
            mark.add(chase.level[at]);
        return mark;
    }
    const runtime::Wave& wave = roll_.waves[source];
    const std::size_t row = place_in(wave.parameter, parameter);
    mark.add(word(wave.low[row]));
    mark.add(word(wave.high[row]));
    mark.add(wave.offset[row]);
    // Each member of a flicker has noise of its own.
    if (roll_.waveforms[wave.waveform].shape == Waveform::Shape::flicker) mark.add(wave.member[row]);
    return mark;
}

}  // namespace tallow::fit
