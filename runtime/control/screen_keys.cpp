#include <fmt/format.h>

#include "runtime/control/cue_words.hpp"
#include "runtime/control/plain_text.hpp"
#include "runtime/control/screen_parts.hpp"

namespace tallow::runtime::screen {
namespace {

// Keys that do something in some shows alone.
struct Found {
    explicit Found(const Roll& roll)
        : panic(!roll.panic.empty()),
          by_itself(starts_by_itself(roll)),
          submasters(!roll.submasters.empty()),
          lists(roll.lists.size() > 1) {}
    bool panic, by_itself, submasters, lists;
};

// What each key would do now, those that matter most first.
std::vector<std::string> keys_now(const View& view) {
    if (view.roll == nullptr) return {"q quit", view.help ? "? less" : "? more"};
    const Standing& show = view.progress.show;
    const Found found(*view.roll);
    std::vector<std::string> keys = {"space GO", "b back", view.help ? "? less" : "? more",
                                     show.blackout ? "k light back" : "k blackout",
                                     view.progress.paused ? "p go on" : "p pause"};
    if (found.panic) keys.emplace_back(show.panic ? "x end panic" : "x panic");
    keys.emplace_back("c to a cue");
    if (found.by_itself) keys.emplace_back("h hold");
    keys.emplace_back("s stop");
    keys.emplace_back("g grand");
    if (found.submasters) keys.emplace_back("left right submaster");
    if (view.grand || view.submaster != none) keys.emplace_back("up down level");
    if (found.lists) keys.emplace_back("l list");
    keys.emplace_back("q quit");
    return keys;
}

// The same, told at length.
std::vector<std::string_view> keys_told(const Roll& roll) {
    const Found found(roll);
    const std::pair<bool, std::string_view> told[] = {
        {true, "space      GO: the next cue of the list"},
        {true, "b          back to the cue before"},
        {true, "k          blackout, and the light back"},
        {true, "p          pause: all stands still; p or a GO goes on"},
        {found.panic, "x          the panic look, and back to the show"},
        {true, "c, 12.5    then enter: to cue 12.5, as a whole picture"},
        {found.by_itself, "h          hold: what starts by itself waits for a GO"},
        {true, "s          then enter: the list fades out in 3s; GO goes on"},
        {found.submasters, "1 to 9     choose a submaster; left, right: the one beside"},
        {true, "g          choose the grand master"},
        {true, "up, down   what is chosen by 5%; page up, page down by 25%"},
        {found.lists, "l          choose the list that space, b, c and s act on"},
        {true, "escape     leave what is being typed, and this page"},
        {true, "control L  draw all anew"},
        {true, "q          then enter: the show ends"},
    };
    std::vector<std::string_view> lines;
    for (const auto& [does, line] : told)
        if (does) lines.push_back(line);
    return lines;
}

}  // namespace

void add_keys(Rows& rows, const View& view) {
    unsigned n = rank::always;
    std::string line;
    for (const std::string& key : keys_now(view)) {
        if (!line.empty() && width(line) + 2 + width(key) > rows.columns()) {
            rows.add(n, line);
            n = rank::more;
            line.clear();
        }
        line += (line.empty() ? "" : "  ") + key;
    }
    rows.add(n, line);
}

void add_help(Rows& rows, const View& view) {
    const std::vector<std::string_view> told_of_frames = {"q          then enter: playing ends",
                                                          "?          this page, and away with it",
                                                          "control L  draw all anew"};
    for (const std::string_view line : view.roll != nullptr ? keys_told(*view.roll) : told_of_frames)
        rows.add(rank::cue, line);
}

}  // namespace tallow::runtime::screen
