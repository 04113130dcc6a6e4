#include "compiler/show/trigger.hpp"

#include <fmt/format.h>

#include "runtime/cue_number.hpp"
#include "runtime/duration.hpp"
#include "runtime/timecode.hpp"

namespace tallow::show {

using runtime::format_duration;

Index starter(const Show& show, Index cue) {
    if (cue == show.lists[show.cues[cue].list].first) return none;
    return show.cues[cue - 1].next == runtime::Next::go ? none : cue - 1;
}

std::string trigger_text(const Show& show, Index at) {
    const Cue& cue = show.cues[at];
    std::string words;
    if (cue.timecode != runtime::no_timecode)
        words = "timecode " + runtime::format_timecode(cue.timecode, show.timecode_rate);
    if (const Index before = starter(show, at); before != none) {
        const Cue& from = show.cues[before];
        const bool follow = from.next == runtime::Next::follow;
        words += fmt::format("{}by itself, {} after {}cue {}{}", words.empty() ? "" : ", or ",
                             format_duration(from.next_ms), follow ? "" : "the GO of ",
                             runtime::cue_number(from.number), follow ? " is complete" : "");
    }
    if (words.empty()) words = "GO";
    return cue.on.empty() ? words : words + ": " + cue.on;
}

std::string next_text(const Cue& cue) {
    if (cue.next == runtime::Next::go) return "";
    return (cue.next == runtime::Next::follow ? "follow " : "next-at ") + format_duration(cue.next_ms);
}

}  // namespace tallow::show
