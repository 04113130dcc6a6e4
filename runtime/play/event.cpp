#include "runtime/play/event.hpp"

#include <algorithm>
#include <fmt/format.h>

#include "runtime/cue_number.hpp"
#include "runtime/duration.hpp"
#include "runtime/timecode.hpp"

namespace tallow::runtime {
namespace {

using What = Command::What;

std::string named(const Cue& cue) {
    return cue.label.empty() ? cue_number(cue.number)
                             : fmt::format("{} \"{}\"", cue_number(cue.number), cue.label);
}

std::string line_for_cue(const Event& event, const Roll& roll) {
    const std::uint32_t index = event.cue;
    const auto in = std::find_if(roll.lists.begin(), roll.lists.end(),
                                 [&](const CueList& list) { return index - list.first < list.count; });
    const Cue& cue = roll.cues[index];
    std::string line = roll.lists.size() > 1 ? fmt::format("{} cue {}", in->name, named(cue))
                                             : fmt::format("cue {}", named(cue));
    if (index + 1 == in->first + in->count) return line + "; the last one";
    const Cue& next = roll.cues[index + 1];
    line += fmt::format("; next {}", named(next));
    if (!next.on.empty()) line += fmt::format(" on \"{}\"", next.on);
    if (next.timecode != no_timecode)
        line += fmt::format(" at {}", format_timecode(next.timecode, roll.timecode_rate));
    if (cue.next != Next::go) line += event.starts_next ? ", by itself" : ", held, waits for GO";
    return line;
}

// The name of a command's list behind a word, where there are several.
std::string of_list(const Command& command, const Roll& roll) {
    if (roll.lists.size() == 1) return "";
    return fmt::format(" of {}", roll.lists[command.index == none ? 0 : command.index].name);
}

std::string line_for_hold(const Command& command, const Roll& roll) {
    if (command.index == none) return "held: nothing starts by itself; `go` goes on";
    return fmt::format("held: nothing{} starts by itself but by timecode; `go` goes on",
                       of_list(command, roll));
}

std::string line_for_stop(const Command& command, const Roll& roll) {
    const std::string which = command.index == none ? "" : of_list(command, roll);
    return fmt::format("stopped: all{} fades out in {}; `go` goes on with the next cue", which,
                       format_duration(command.ms));
}

}  // namespace

std::string describe(const Event& event, const Roll& roll) {
    if (event.what == Event::What::cue) return line_for_cue(event, roll);
    const Command& command = event.command;
    switch (event.answer) {
        case Answer::last_cue:
            return "that was the last cue" + of_list(command, roll);
        case Answer::first_cue:
            return "this is the first cue" + of_list(command, roll);
        case Answer::nothing:
            return command.what == What::pause ? "it is paused already" : "it is not paused";
        case Answer::no_panic_look:
            return "the show has no panic look; write `panic look NAME` in its `safety`";
        case Answer::on:
            return command.what == What::panic ? "the panic look is up; `panic` takes it away"
                                               : "blackout: no light but the floors; `blackout` ends it";
        case Answer::off:
            return command.what == What::panic ? "the panic look is away" : "the blackout is over";
        case Answer::done:
            break;
    }
    switch (command.what) {
        case What::hold:
            return line_for_hold(command, roll);
        case What::stop:
            return line_for_stop(command, roll);
        case What::pause:
            return "paused: all stands still; `resume` or `go` goes on";
        case What::resume:
            return "goes on";
        default:
            return "";
    }
}

}  // namespace tallow::runtime
