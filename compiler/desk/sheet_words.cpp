#include "compiler/desk/sheet_words.hpp"

#include <fmt/format.h>
#include <map>

#include "compiler/text/decimal.hpp"
#include "runtime/cue_number.hpp"
#include "runtime/duration.hpp"

namespace tallow::desk {

using runtime::format_duration;

std::string seconds(std::uint64_t milliseconds) {
    return text::decimal(static_cast<std::int64_t>(milliseconds) * 1000);
}

std::string joined(const std::vector<std::string>& words) {
    return fmt::format("{}", fmt::join(words, ", "));
}

std::string error_text(Percent error) {
    return text::decimal((std::max<Percent>(error - half_step, 0) + 9'999) / 10'000 * 10'000);
}

std::string tenths(Percent level) {
    return text::decimal(text::rounded(level, 100'000) * 100'000);
}

std::string layout_text(const show::Layout& l) {
    std::string words = counted(l.channels, "channel");
    if (l.scenes > 0) words += ", " + counted(l.scenes, "scene");
    if (l.submasters > 0) words += ", " + counted(l.submasters, "submaster");
    if (l.pages > 1) words += ", " + counted(l.pages, "page");
    return words;
}

std::string number(const show::Show& show, Index cue) {
    return runtime::cue_number(show.cues[cue].number);
}

std::string numbers(const show::Show& show, const std::vector<Index>& cues) {
    std::vector<std::string> words;
    words.reserve(cues.size());
    for (const Index cue : cues) words.push_back(number(show, cue));
    return joined(words);
}

std::string title(const show::Show& show, Index cue) {
    const std::string& label = show.cues[cue].label;
    return label.empty() ? "CUE " + number(show, cue) : fmt::format("CUE {}  {}", number(show, cue), label);
}

std::string times_text(std::uint64_t up, std::uint64_t down) {
    return up == down ? format_duration(up)
                      : fmt::format("{} up, {} down", format_duration(up), format_duration(down));
}

std::string fade_text(const show::Show& show, Index cue) {
    const show::Times& t = show.cues[cue].times;
    return t.up == 0 && t.down == 0 ? "cut" : times_text(t.up, t.down);
}

std::string room_text(const std::optional<std::uint64_t>& room, bool in_time) {
    if (!room) return {};
    return fmt::format(" The show leaves {}: {}", format_duration(*room),
                       in_time ? "enough." : "TOO SHORT for one pair of hands.");
}

std::string in_time_text(const std::optional<std::uint64_t>& room, bool in_time) {
    return !room ? "" : in_time ? "yes" : "no";
}

std::string chases_text(const Chases& chases, const Pictures& pictures, Index cue) {
    std::string words;
    for (const Chase& c : chases.chases) {
        if (!std::binary_search(c.cues.begin(), c.cues.end(), cue)) continue;
        std::vector<std::uint32_t> channels;
        for (const std::size_t channel : c.channels) channels.push_back(pictures.channels[channel].number);
        words += fmt::format("{}Chase {} runs: leave {} down.", words.empty() ? "" : " ", c.number,
                             channels_text(channels));
    }
    return words;
}

std::string chase_moves_text(const Chases& chases, Index cue) {
    std::vector<std::string> words;
    for (const Chase& chase : chases.chases) {
        const auto runs = [&](Index in) {
            return std::binary_search(chase.cues.begin(), chase.cues.end(), in);
        };
        const bool before = cue > 0 && runs(cue - 1);
        if (runs(cue) != before)
            words.push_back(fmt::format("{} chase {}", before ? "stop" : "start", chase.number));
    }
    return joined(words);
}

std::string place_text(const OnDesk& on, submasters::Place place) {
    return on.layout.pages > 1 ? fmt::format("page {} sub {}", place.page, place.submaster)
                               : fmt::format("sub {}", place.submaster);
}

std::string submaster_moves_text(const OnDesk& on, const Recordings& plan, const RunStep& step, bool rising) {
    std::vector<std::string> words;
    for (const SubmasterMove& m : step.moves)
        if ((m.to > m.from) == rising)
            words.push_back(fmt::format("{} to {}", place_text(on, plan.recordings[m.recording].place),
                                        m.to == all_of_it ? "full" : text::decimal(m.to)));
    return joined(words);
}

std::vector<emit::Fader> faders(const OnDesk& on, const std::vector<Percent>& set,
                                const std::vector<bool>& moves) {
    std::vector<emit::Fader> all;
    for (std::uint32_t n = 1; n <= on.layout.channels; ++n) all.push_back({n, "", false});
    for (std::size_t c = 0; c < on.width; ++c) {
        emit::Fader& f = all[on.pictures.channels[c].number - 1u];
        f.level = set[c] == 0 ? "" : set[c] == all_of_it ? "F" : text::decimal(set[c]);
        f.moved = moves[c];
    }
    return all;
}

std::string keep_text(const OnDesk& on) {
    std::map<std::string, std::vector<std::uint32_t>> channels;  // by what is said of them
    std::vector<std::string> order;
    const auto add = [&](Percent floor, std::uint32_t number, const char* of_what) {
        if (floor == 0) return;
        const std::string words = fmt::format("never under {}%{}", tenths(floor), of_what);
        if (!channels.contains(words)) order.push_back(words);
        channels[words].push_back(number);
    };
    for (std::size_t c = 0; c < on.width; ++c) {
        const Channel& channel = on.pictures.channels[c];
        add(channel.floor, channel.number, "");
        add(channel.floor_above, channel.number, " of their colour");
    }
    if (order.empty()) return {};
    std::vector<std::string> all;
    for (const std::string& words : order) all.push_back(channels_text(channels.at(words)) + " " + words);
    return fmt::format(
        "KEEP: {}. The levels here have that in them. The desk's grand master and blackout do not know of "
        "it, and before the first cue hands have to hold it.",
        fmt::join(all, "; "));
}

void add_channel_columns(emit::Table& table, const OnDesk& on) {
    for (std::size_t c = 0; c < on.width; ++c)
        table.columns.push_back({std::to_string(on.pictures.channels[c].number), true});
}

void add_channel_levels(SheetRow& row, const OnDesk& on, const std::vector<Percent>& set) {
    for (std::size_t c = 0; c < on.width; ++c)
        row.push_back(on.pictures.channels[c].fine ? "" : text::decimal(set[c]));
}

}  // namespace tallow::desk
