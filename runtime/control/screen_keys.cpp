#include <array>
#include <fmt/format.h>

#include "runtime/control/plain_text.hpp"
#include "runtime/control/screen_parts.hpp"

namespace tallow::runtime::screen {
namespace {

// What each key would do now, those that matter most first.
std::vector<std::string> keys_now(const View& view) {
    if (view.roll == nullptr) return {"q quit", view.help ? "? less" : "? more"};
    const Standing& show = view.progress.show;
    std::vector<std::string> keys = {"space GO",
                                     "b back",
                                     view.help ? "? less" : "? more",
                                     show.blackout ? "k light back" : "k blackout",
                                     view.progress.paused ? "p go on" : "p pause",
                                     show.panic ? "x end panic" : "x panic",
                                     "c to a cue",
                                     "h hold",
                                     "s stop",
                                     "g grand"};
    if (!view.roll->submasters.empty()) keys.emplace_back("left right submaster");
    if (!view.roll->submasters.empty() || view.grand) keys.emplace_back("up down level");
    if (view.roll->lists.size() > 1) keys.emplace_back("l list");
    keys.emplace_back("q quit");
    return keys;
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
    constexpr std::array told = {
        "space      GO: the next cue of the list",
        "b          back to the cue before",
        "k          blackout, and the light back",
        "p          pause: all stands still; p or a GO goes on",
        "x          the panic look, and back to the show",
        "c, 12.5    then enter: to cue 12.5, as a whole picture",
        "h          hold: what would start by itself waits for a GO",
        "s          then enter: stop, the list fades out in 3s; GO plays its next cue",
        "1 to 9     choose a submaster by its number, left and right the one beside it",
        "g          choose the grand master",
        "up, down   what is chosen goes 5% up or down; page up, page down: 25%",
        "l          choose the list that the keys act on",
        "escape     leave what is being typed, and this page",
        "control L  draw all anew",
        "q          then enter: the show ends",
    };
    constexpr std::array told_of_frames = {"q   then enter: playing ends", "?   this page, and away with it"};
    const auto tell = [&](const auto& lines) {
        for (const char* line : lines) rows.add(rank::moving, line);
    };
    if (view.roll != nullptr)
        tell(told);
    else
        tell(told_of_frames);
}

}  // namespace tallow::runtime::screen
