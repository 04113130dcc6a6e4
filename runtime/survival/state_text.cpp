#include <fmt/format.h>
#include <iterator>

#include "runtime/control/plain_text.hpp"
#include "runtime/hash.hpp"
#include "runtime/survival/state.hpp"

namespace tallow::runtime {
namespace {

constexpr unsigned title_columns = 60;

std::string number_or_dash(std::optional<std::uint64_t> n) {
    return n ? std::to_string(*n) : "-";
}

std::string cue_or_dash(std::uint32_t cue, const Roll& roll) {
    return cue == none ? "-" : std::to_string(roll.cues[cue].number);
}

}  // namespace

std::string title_in_state(const Roll& roll) {
    return cut(plain(roll.title), title_columns);
}

bool is_of_another_show(const State& state, const Roll& roll) {
    const std::string title = title_in_state(roll);
    return !state.title.empty() && !title.empty() && state.title != title;
}

std::string write_state(const State& state, const Roll& roll) {
    std::string text;
    const auto line = [&]<class... Args>(fmt::format_string<Args...> form, Args&&... args) {
        fmt::format_to(std::back_inserter(text), form, std::forward<Args>(args)...);
        text += '\n';
    };
    const Standing& s = state.show;
    line("tallow-state 1");
    line("roll {:016x}", state.roll);
    if (const std::string title = title_in_state(roll); !title.empty()) line("title {}", title);
    line("wall {}", state.wall_ms);
    if (!state.cid.empty()) line("cid {}", state.cid);
    line("refresh {}", roll.refresh);
    line("now {}", s.now);
    line("paused {:d}", state.paused);
    line("grand {}", s.master);
    line("blackout {:d}", s.blackout);
    line("panic {:d}", s.panic);
    line("timecode {}", number_or_dash(s.timecode));
    if (state.tape != TapeUse::followed) line("tape {}", static_cast<unsigned>(state.tape));
    for (std::size_t i = 0; i < s.lists.size(); ++i) {
        const Standing::List& on = s.lists[i];
        line("list {} {} {} {} {} {}", roll.lists[i].name, cue_or_dash(on.current, roll),
             number_or_dash(on.stopped), on.begun, on.complete_at, number_or_dash(on.pending));
        for (const Standing::Given& given : on.earlier)
            if (given.cue != none)
                line("earlier {} {} {}", roll.lists[i].name, roll.cues[given.cue].number, given.at);
    }
    for (std::size_t i = 0; i < s.submasters.size(); ++i)
        if (s.submasters[i] != 0) line("submaster {} {}", roll.submasters[i].number, s.submasters[i]);
    for (std::size_t i = 0; i < s.sources.size(); ++i)
        if (const auto& [began, carried] = s.sources[i]; began)
            line("source {} {} {} {}", i, *began, static_cast<std::uint64_t>(carried >> 64),
                 static_cast<std::uint64_t>(carried));
    for (std::size_t i = 0; i < s.claims.size(); ++i)
        if (s.claims[i] != 0) line("claim {} {}", i, s.claims[i]);
    line("end {:016x}", hash(text));
    return text;
}

}  // namespace tallow::runtime
