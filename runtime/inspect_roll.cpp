#include <fmt/format.h>

#include "runtime/cue_number.hpp"
#include "runtime/duration.hpp"
#include "runtime/inspect.hpp"
#include "runtime/timecode.hpp"

namespace tallow::runtime {
namespace {

std::string start_of(const Roll& roll, const CueList& list, std::uint32_t index) {
    const Cue& cue = roll.cues[index];
    const std::string code =
        cue.timecode == no_timecode
            ? ""
            : fmt::format(" or at {}", format_timecode(cue.timecode, roll.timecode_rate));
    if (index == list.first) return "on GO" + code;
    const Cue& before = roll.cues[index - 1];
    switch (before.next) {
        case Next::follow:
            return fmt::format("{} after {} is complete{}", format_duration(before.next_ms),
                               cue_number(before.number), code);
        case Next::next_at:
            return fmt::format("{} after the GO of {}{}", format_duration(before.next_ms),
                               cue_number(before.number), code);
        case Next::go:
            break;
    }
    return "on GO" + code;
}

std::string cues_of(const Roll& roll, const CueList& list) {
    std::string text;
    if (roll.lists.size() > 1) text += fmt::format("list       {}\n", list.name);
    for (std::uint32_t i = list.first; i < list.first + list.count; ++i) {
        const Cue& cue = roll.cues[i];
        const std::string label = cue.label.empty() ? "" : fmt::format("\"{}\"  ", cue.label);
        text += fmt::format("cue {:<8} {}{}, complete after {}\n", cue_number(cue.number), label,
                            start_of(roll, list, i), format_duration(cue.complete_ms));
    }
    return text;
}

std::string_view name_of(Waveform::Shape shape) {
    switch (shape) {
        case Waveform::Shape::sine:
            return "sine";
        case Waveform::Shape::segments:
            return "segments";
        case Waveform::Shape::flicker:
            return "flicker";
    }
    return "";
}

std::size_t parameters_in(const std::vector<Stretch>& stretches) {
    std::size_t count = 0;
    for (const Stretch& stretch : stretches) count += stretch.count;
    return count;
}

std::size_t parameters_in(const std::vector<Run>& runs) {
    std::size_t count = 0;
    for (const Run& run : runs) count += run.level.size();
    return count;
}

std::string sources_of(const Roll& roll) {
    std::string text;
    for (std::size_t i = 0; i < roll.waves.size(); ++i) {
        const Wave& wave = roll.waves[i];
        text += fmt::format("wave {:<7} {}, period {}, on {} parameters\n", i,
                            name_of(roll.waveforms[wave.waveform].shape), format_duration(wave.period),
                            wave.parameter.size());
    }
    for (std::size_t i = 0; i < roll.chases.size(); ++i) {
        const Chase& chase = roll.chases[i];
        std::uint64_t ms = 0;
        for (const Chase::Step& step : chase.steps) ms += step.ms;
        text += fmt::format("chase {:<6} {} steps in {}, {}, on {} parameters\n", roll.waves.size() + i,
                            chase.steps.size(), format_duration(ms), chase.loop ? "in a loop" : "once",
                            chase.parameter.size());
    }
    return text;
}

}  // namespace

std::string summary(const Roll& roll) {
    std::string text = fmt::format("roll       \"{}\"\n", roll.title);
    if (!roll.by.empty()) text += fmt::format("by         {}\n", roll.by);
    text += fmt::format("refresh    {} Hz\nuniverses  {}\nparameters {}\nwaves      {}\n", roll.refresh,
                        universe_list(roll.universes), roll.parameters.size(), roll.waves.size());
    if (!roll.chases.empty()) text += fmt::format("chases     {}\n", roll.chases.size());
    text += fmt::format("cues       {}\n", roll.cues.size());
    for (const CueList& list : roll.lists) text += cues_of(roll, list);
    text += sources_of(roll);
    for (const Submaster& submaster : roll.submasters)
        text += fmt::format("submaster {} \"{}\"  on {} parameters\n", submaster.number, submaster.label,
                            parameters_in(submaster.runs));
    if (!roll.keeps.empty()) text += fmt::format("floors     on {} parameters\n", parameters_in(roll.keeps));
    if (!roll.panic.empty()) text += fmt::format("panic      on {} parameters\n", parameters_in(roll.panic));
    for (const Response& response : roll.responses)
        text += fmt::format("response   {} knots, slots {} to {} of 65535, on {} parameters\n",
                            response.level.size(), response.slot.front(), response.slot.back(),
                            parameters_in(response.on));
    return text;
}

}  // namespace tallow::runtime
