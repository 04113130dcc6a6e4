#include "runtime/play/event.hpp"

#include <algorithm>
#include <fmt/format.h>
#include <vector>

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

// With its list, where there are several.
std::string cue_of_list(const Cue& cue, const CueList& list, const Roll& roll) {
    return fmt::format("{}cue {}", roll.lists.size() > 1 ? list.name + " " : "", named(cue));
}

std::string line_for_cue(const Event& event, const Roll& roll) {
    const std::uint32_t index = event.cue;
    const auto in = std::find_if(roll.lists.begin(), roll.lists.end(),
                                 [&](const CueList& list) { return index - list.first < list.count; });
    const Cue& cue = roll.cues[index];
    std::string line = cue_of_list(cue, *in, roll);
    if (index + 1 == in->first + in->count) return line + "; the last one";
    const Cue& next = roll.cues[index + 1];
    line += fmt::format("; next {}", named(next));
    if (!next.on.empty()) line += fmt::format(" on \"{}\"", next.on);
    if (next.timecode != no_timecode)
        line += fmt::format(" at timecode {}", format_timecode(next.timecode, roll.timecode_rate));
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

std::string grand_master_at(Level level) {
    return fmt::format("grand master at {}", level_words(level));
}

std::string line_for_timecode(const Command& command, bool waits, const Roll& roll) {
    const std::uint64_t frame = timecode_frame(command.code, roll.timecode_rate, roll.refresh);
    const std::string label = format_timecode(frame, roll.timecode_rate);
    return waits ? fmt::format("timecode stands at {} until the pause ends", label)
                 : fmt::format("timecode runs on from {}", label);
}

// Of levels and timecode.
std::string line_for_value(const Command& command, bool waits, const Roll& roll) {
    switch (command.what) {
        case What::submaster:
            return submaster_at(roll.submasters[command.index], command.level);
        case What::grand:
            return grand_master_at(command.level);
        case What::timecode:
            return line_for_timecode(command, waits, roll);
        case What::timecode_off:
            return "timecode is off: no cue starts by it until `timecode on`, or a label";
        case What::timecode_on:
            return "timecode is on: the show goes by what comes from outside";
        default:
            return "";
    }
}

}  // namespace

std::string present_cues(const Standing& show, const Roll& roll) {
    std::string all;
    for (std::size_t list = 0; list < show.lists.size(); ++list) {
        const Standing::List& on = show.lists[list];
        if (on.current == none) continue;
        all += (all.empty() ? "in " : ", ") + cue_of_list(roll.cues[on.current], roll.lists[list], roll);
        if (on.stopped) all += " (stopped)";
    }
    return all.empty() ? "before the first cue" : all;
}

std::string submaster_at(const Submaster& submaster, Level level) {
    const std::string label = submaster.label.empty() ? "" : fmt::format(" \"{}\"", submaster.label);
    return fmt::format("submaster {}{} at {}", submaster.number, label, level_words(level));
}

std::string how_it_stands(const Standing& show, const Roll& roll) {
    std::vector<std::string> held;
    if (show.blackout) held.emplace_back("blackout");
    if (show.panic) held.emplace_back("the panic look");
    if (show.master != full) held.push_back(grand_master_at(show.master));
    for (std::size_t i = 0; i < show.submasters.size(); ++i)
        if (show.submasters[i] > 0) held.push_back(submaster_at(roll.submasters[i], show.submasters[i]));
    const std::string cues = present_cues(show, roll);
    return held.empty() ? cues : fmt::format("{}, with {}", cues, fmt::join(held, ", "));
}

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
        case Answer::waits:
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
            return command.wants_answer ? line_for_value(command, event.answer == Answer::waits, roll) : "";
    }
}

}  // namespace tallow::runtime
