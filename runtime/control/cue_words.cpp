#include "runtime/control/cue_words.hpp"

#include <algorithm>
#include <fmt/format.h>

#include "runtime/control/plain_text.hpp"
#include "runtime/cue_number.hpp"
#include "runtime/duration.hpp"
#include "runtime/timecode.hpp"

namespace tallow::runtime {
namespace {

constexpr unsigned bar_signs = 10;

// What is said beside a cue in the prompt book, "" without.
std::string spoken(const Cue& cue) {
    std::string words;
    if (!cue.on.empty()) words = fmt::format("on \"{}\"", plain(cue.on));
    if (!cue.page.empty()) words += fmt::format("{}(page {})", words.empty() ? "" : " ", plain(cue.page));
    return words;
}

// When a cue starts without a GO, "" where it does not.
std::string by_itself(const Roll& roll, std::uint32_t list, std::uint32_t cue) {
    if (roll.cues[cue].timecode != no_timecode)
        return fmt::format("at timecode {}", format_timecode(roll.cues[cue].timecode, roll.timecode_rate));
    if (cue == roll.lists[list].first) return "";
    const Cue& before = roll.cues[cue - 1];
    if (before.next == Next::go) return "";
    const bool follows = before.next == Next::follow;
    const std::string when = before.next_ms > 0 ? format_duration(before.next_ms) + " after"
                             : follows          ? "when"
                                                : "with";
    const std::string number = cue_number(before.number);
    return follows ? fmt::format("{} cue {} is complete", when, number)
                   : fmt::format("{} the GO of cue {}", when, number);
}

std::string joined(const std::string& when, const std::string& said) {
    if (when.empty() && said.empty()) return "GO";
    if (when.empty() || said.empty()) return when + said;
    return when + (said.front() == '(' ? " " : ", ") + said;
}

}  // namespace

bool starts_by_itself(const Roll& roll) {
    return std::any_of(roll.cues.begin(), roll.cues.end(),
                       [](const Cue& cue) { return cue.next != Next::go || cue.timecode != no_timecode; });
}

std::uint64_t to_ms(Tick ticks, std::uint32_t refresh) {
    return ticks / refresh;
}

std::string waits_for(const Roll& roll, std::uint32_t list, std::uint32_t cue) {
    return joined(by_itself(roll, list, cue), spoken(roll.cues[cue]));
}

std::string next_waits_for(const Roll& roll, std::uint32_t list, const Standing& show) {
    const Standing::List& at = show.lists[list];
    const std::string said = spoken(roll.cues[at.next]);
    if (at.pending) {
        const Tick left = *at.pending > show.now ? *at.pending - show.now : 0;
        return joined(fmt::format("by itself in {}", rough_duration(to_ms(left, roll.refresh))), said);
    }
    if (roll.cues[at.next].timecode != no_timecode) return waits_for(roll, list, at.next);
    // What would follow the present cue by itself was held, stopped or jumped past.
    const bool held = !by_itself(roll, list, at.next).empty() && at.current != none;
    return joined(held ? "held, waits for GO" : "", said);
}

std::string going(const Roll& roll, const Standing& show, std::uint32_t list) {
    const Standing::List& at = show.lists[list];
    if (at.current == none) return "";
    const bool fades = show.now < at.complete_at;
    const auto time = [&](Tick ticks) { return rough_duration(to_ms(ticks, roll.refresh)); };
    if (at.stopped)
        return fades ? fmt::format("fading out, {} left", time(at.complete_at - show.now)) : "stopped";
    if (!fades || show.now < at.begun) return "complete";
    return fmt::format("fading, {} of {}", time(show.now - at.begun),
                       format_duration(to_ms(at.complete_at - at.begun, roll.refresh)));
}

std::string bar(const Standing::List& list, Tick now) {
    if (list.stopped || now >= list.complete_at || now < list.begun) return "";
    const auto done =
        static_cast<std::size_t>((now - list.begun) * bar_signs / (list.complete_at - list.begun));
    return std::string(done, '=').append(bar_signs - done, '-');
}

}  // namespace tallow::runtime
