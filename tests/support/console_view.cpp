#include "tests/support/console_view.hpp"

namespace tallow::test {

using namespace runtime;

namespace {

constexpr Tick second = 40 * ticks_per_frame;

Cue cue(std::uint32_t number, const char* label, const char* on = "", const char* note = "",
        Next next = Next::go, std::uint64_t next_ms = 0) {
    Cue c;
    c.number = number;
    c.label = label;
    c.on = on;
    c.note = note;
    c.next = next;
    c.next_ms = next_ms;
    c.complete_ms = 5000;
    return c;
}

Roll storm() {
    Roll roll;
    roll.refresh = 40;
    roll.lists = {{"main", 0, 8}, {"side", 8, 3}, {"weather", 11, 2}};
    roll.cues = {cue(1000, "Preset"),
                 cue(2000, "House out", "the doors close"),
                 cue(3000, "Storm begins", "first thunder",
                     "Watch the boat: it must stand on its mark before the light moves; if it does not, "
                     "wait for it."),
                 cue(4000, "Storm, full", "second thunder", "", Next::follow, 3000),
                 cue(5000, "Calm", "", "Followspot off.\nTurn the page."),
                 cue(6500, "Morning", "“What light”"),
                 cue(7000, "Noon"),
                 cue(8000, "Curtain call", "bows"),
                 cue(1000, "Rain", "", "", Next::next_at, 10000),
                 cue(2000, "Wind"),
                 cue(3000, "Silence"),
                 cue(1000, "Clouds"),
                 cue(2000, "Sun", "birds")};
    roll.cues[5].page = "41";
    roll.cues[6].timecode = 90000;
    for (std::uint32_t n = 1; n <= 14; ++n) {
        Submaster s;
        s.number = n;
        s.label = n == 3 ? "舞台前の明かりとても長い" : n % 2 == 1 ? "Front wash" : "Specials stage left";
        roll.submasters.push_back(s);
    }
    roll.panic = {{0, {full}, {}}};
    return roll;
}

}  // namespace

ConsoleView::ConsoleView() : roll(storm()) {
    view.roll = &roll;
    view.title = "The Storm";
    view.progress.counts = {101234, 2, 0};
    Standing& s = view.progress.show;
    s.now = 2539 * second + second / 10;
    view.progress.frame = s.now / ticks_per_frame;
    s.submasters.assign(roll.submasters.size(), 0);
    s.submasters[1] = 40000;
    s.submasters[12] = full;
    s.lists.resize(3);
    s.lists[0] = {2, 3, {{{1, 0}}}, {}, 2537 * second, 2542 * second, {}};
    s.lists[1] = {8, 9, {}, {}, 2530 * second, 2531 * second, 2540 * second};
    s.lists[2].next = 11;
    view.outputs = {{"E1.31 multicast through eth0", true, "", 0, 0},
                    {"serial line /dev/ttyUSB0", false, "no such device; put the cable back", 2900, 12}};
    view.ways_in = {"OSC on 127.0.0.1:7700", "timecode 01:02:03:04"};
    view.notices = {"resumed where the show stood before",
                    "cue 3 \"Storm begins\"; next 4 \"Storm, full\" on \"second thunder\"",
                    "there is no cue list `bang`; OSC 192.0.2.7:9000 said so"};
    view.submaster = 1;
}

std::string readable(const std::vector<std::string>& screen) {
    std::string text;
    for (const std::string& line : screen) {
        for (std::size_t at = 0; at < line.size();) {
            if (line.compare(at, 4, "\033[1m") == 0) {
                text += "‹";
                at += 4;
            } else if (line.compare(at, 4, "\033[0m") == 0) {
                text += "›";
                at += 4;
            } else {
                text += line[at++];
            }
        }
        text += '\n';
    }
    return text;
}

}  // namespace tallow::test
