// Whole screens, as an operator sees them: bold text stands between ‹ and ›.
#include <catch2/catch.hpp>

#include "runtime/control/cue_words.hpp"
#include "runtime/control/plain_text.hpp"
#include "runtime/control/screen.hpp"
#include "tests/support/console_view.hpp"

using namespace tallow;
using namespace tallow::runtime;

namespace {

std::string drawn(const View& view, unsigned columns, unsigned rows) {
    return test::readable(draw(view, columns, rows)).insert(0, 1, '\n');
}
// One line of a screen, 0 the first.
std::string line(const View& view, std::size_t n, unsigned columns = 80) {
    std::string text = test::readable({draw(view, columns, 24).at(n)});
    text.pop_back();
    return text;
}
bool has(const std::string& text, std::string_view part) {
    return text.find(part) != std::string::npos;
}

}  // namespace

TEST_CASE("the screen, 80 by 24", "[unit][console]") {
    test::ConsoleView show;
    CHECK(drawn(show.view, 80, 24) == R"(
‹The Storm›                                                                0:42:19
                                                                       list main
before  2   House out
‹NOW›     ‹3›   ‹Storm begins›                    fading, 2.1s of 5s  ====------
            note: Watch the boat: it must stand on its mark before the light
            moves; if it does not, wait for it.

‹NEXT›    ‹4›   ‹Storm, full›                     ‹on "second thunder"›
after   5   Calm                            3s after cue 4 is complete
side     now 1 Rain, complete; ‹next 2 Wind, by itself in 0.9s›
weather  not begun; ‹next 1 Clouds, GO›
grand master 100%   submasters 1 to 9 of 14‹, 1 more up›
   1 Front wash        0% ‹> ›‹ 2 Specials stage…  61%›    3 舞台前の明かり…   0%
   4 Specials stage…   0%    5 Front wash        0%    6 Specials stage…   0%
   7 Front wash        0%    8 Specials stage…   0%    9 Front wash        0%
‹FAILS: serial line /dev/ttyUSB0, next try in 2.9s: no such device; put the›
‹cable back (12 frames left out)›
works: E1.31 multicast through eth0
listens to: OSC on 127.0.0.1:7700; timecode 01:02:03:04
101234 frames sent‹, 2 late›, 0 left out
- resumed where the show stood before
- there is no cue list `bang`; OSC 192.0.2.7:9000 said so
space GO  b back  ? more  k blackout  p pause  x panic  c to a cue  h hold
s stop  g grand  left right submaster  up down level  l list  q quit
)");
}

TEST_CASE("who stands by is told with the outputs, and who does not, boldly", "[unit][console]") {
    test::ConsoleView show;
    show.view.outputs.clear();
    show.view.backups = {{"10.0.0.7 stands by", true},
                         {"nobody stands by at 10.0.0.9 port 7701: nothing answers", false},
                         {"10.0.0.8 stands by", true}};
    CHECK(has(drawn(show.view, 80, 24), R"(
no outputs
‹nobody stands by at 10.0.0.9 port 7701: nothing answers›
10.0.0.7 stands by; 10.0.0.8 stands by
listens to: )"));
    // Where there is little room, what is wrong stays.
    const std::string small = drawn(show.view, 60, 14);
    CHECK(has(small, "nobody stands by at 10.0.0.9"));
    CHECK_FALSE(has(small, "10.0.0.7"));
}

TEST_CASE("the screen, 40 by 12", "[unit][console]") {
    test::ConsoleView show;
    CHECK(drawn(show.view, 40, 12) == R"(
‹The Storm›                        0:42:19
                               list main
‹NOW›    ‹3›   ‹Storm begins›
           fading, 2.1s of 5s
           note: Watch the boat: it …
‹NEXT›   ‹4›   ‹Storm, full›
           ‹on "second thunder"›
after  5   Calm  3s after cue 4 is comp…
‹> ›‹ 2 Specials stage…  61%›
‹FAILS: serial line /dev/ttyUSB0, next› …
- there is no cue list `bang`; OSC …
space GO  b back  ? more  k blackout
)");
}

TEST_CASE("the screen, 120 by 40, paused, while a number is typed", "[unit][console]") {
    test::ConsoleView show;
    show.view.progress.paused = true;
    show.view.typed = "to cue 12.5_ (enter: go there)";
    CHECK(drawn(show.view, 120, 40) == R"(
‹The Storm›                                                                                                        0:42:19
‹P A U S E D›                                                                               ‹to cue 12.5_ (enter: go there)›
before  2   House out
‹NOW›     ‹3›   ‹Storm begins›                                          fading, 2.1s of 5s  ====------
            note: Watch the boat: it must stand on its mark before the light moves; if it does not, wait for it.

‹NEXT›    ‹4›   ‹Storm, full›                                           ‹on "second thunder"›

after   5   Calm                                                  3s after cue 4 is complete
        6.5 Morning                                               on "“What light”" (page 41)
        7   Noon                                                  at timecode 01:00:00:00
        8   Curtain call                                          on "bows"

side     now 1 Rain, complete; ‹next 2 Wind, by itself in 0.9s›
weather  not begun; ‹next 1 Clouds, GO›

grand master 100%
   1 Front wash        0% ‹> ›‹ 2 Specials stage…  61%›    3 舞台前の明かり…   0%    4 Specials stage…   0%
   5 Front wash        0%    6 Specials stage…   0%    7 Front wash        0%    8 Specials stage…   0%
   9 Front wash        0%   10 Specials stage…   0%   11 Front wash        0%   12 Specials stage…   0%
  ‹13 Front wash      100%›   14 Specials stage…   0%

‹FAILS: serial line /dev/ttyUSB0, next try in 2.9s: no such device; put the cable back (12 frames left out)›
works: E1.31 multicast through eth0
listens to: OSC on 127.0.0.1:7700; timecode 01:02:03:04
101234 frames sent‹, 2 late›, 0 left out

- resumed where the show stood before
- cue 3 "Storm begins"; next 4 "Storm, full" on "second thunder"
- there is no cue list `bang`; OSC 192.0.2.7:9000 said so








space GO  b back  ? more  k blackout  p go on  x panic  c to a cue  h hold  s stop  g grand  left right submaster
up down level  l list  q quit
)");
}

TEST_CASE("the screen, 80 by 24, with all keys", "[unit][console]") {
    test::ConsoleView show;
    show.view.help = true;
    CHECK(drawn(show.view, 80, 24) == R"(
‹The Storm›                                                                0:42:19
                                                                       list main
‹NOW›     ‹3›   ‹Storm begins›                    fading, 2.1s of 5s  ====------
            note: Watch the boat: it must stand on its mark before the light …
‹NEXT›    ‹4›   ‹Storm, full›                     ‹on "second thunder"›
space      GO: the next cue of the list
b          back to the cue before
k          blackout, and the light back
p          pause: all stands still; p or a GO goes on
x          the panic look, and back to the show
c, 12.5    then enter: to cue 12.5, as a whole picture
h          hold: what starts by itself waits for a GO
s          then enter: the list fades out in 3s; GO goes on
1 to 9     choose a submaster; left, right: the one beside
g          choose the grand master
up, down   what is chosen by 5%; page up, page down by 25%
l          choose the list that space, b, c and s act on
escape     leave what is being typed, and this page
control L  draw all anew
q          then enter: the show ends
‹FAILS: serial line /dev/ttyUSB0, next try in 2.9s: no such device; put the›
‹cable back (12 frames left out)›
works: E1.31 multicast through eth0
space GO  b back  ? less  k blackout  p pause  x panic  c to a cue  h hold
)");
}

TEST_CASE("the screen, 40 by 6, while a frames file plays", "[unit][console]") {
    test::ConsoleView show;
    show.view.roll = nullptr;
    CHECK(drawn(show.view, 40, 6) == R"(
‹The Storm›                        0:42:19

a frames file plays, by its own times
‹FAILS: serial line /dev/ttyUSB0, next› …
- there is no cue list `bang`; OSC …
q quit  ? more
)");
}

TEST_CASE("the time is that since the beginning, which goes on in a pause", "[unit][console]") {
    test::ConsoleView show;
    show.view.progress.paused = true;
    show.show().now = 0;
    show.view.progress.frame += 3600 * 40;
    CHECK(line(show.view, 0) == "‹The Storm›" + std::string(64, ' ') + "1:42:19");
    CHECK(line(show.view, 1).starts_with("‹P A U S E D›"));
    show.view.roll = nullptr;
    show.view.refresh = 20;
    CHECK(has(line(show.view, 0), " 3:24:38"));
}

TEST_CASE("keys that do nothing in a show are left out", "[unit][console]") {
    test::ConsoleView show;
    const auto keys = [&] {
        show.view.help = false;
        std::string all = line(show.view, 22) + line(show.view, 23);
        show.view.help = true;
        return all + drawn(show.view, 80, 40);
    };
    const std::vector<std::string_view> panic{"x panic", "x          the"}, hold{"h hold", "h          hold"},
        submasters{"left right submaster", "1 to 9     "}, list{"l list", "l          choose"};
    const auto has_all = [&](const std::vector<std::string_view>& words) {
        const std::string text = keys();
        return std::count_if(words.begin(), words.end(), [&](auto word) { return has(text, word); });
    };
    for (const auto& words : {panic, hold, submasters, list}) CHECK(has_all(words) == 2);
    show.roll.panic.clear();
    CHECK(has_all(panic) == 0);
    show.roll.lists.resize(1);
    show.show().lists.resize(1);
    CHECK(has_all(list) == 0);
    show.roll.submasters.clear();
    show.show().submasters.clear();
    CHECK(has_all(submasters) == 0);
    for (Cue& cue : show.roll.cues) cue.next = Next::go;
    CHECK(has_all(hold) == 2);  // for the timecode
    for (Cue& cue : show.roll.cues) cue.timecode = no_timecode;
    CHECK(has_all(hold) == 0);
    CHECK(has_all({"up down level"}) == 1);  // the submaster that was chosen before
    show.view.submaster = none;
    CHECK(has_all({"up down level"}) == 0);
    show.view.grand = true;
    CHECK(has_all({"up down level"}) == 1);
}

TEST_CASE("what is unusual stands large below the title", "[unit][console]") {
    test::ConsoleView show;
    show.roll.lists.resize(1);
    show.show().lists.resize(1);
    CHECK(line(show.view, 1) == "");
    show.show().blackout = true;
    CHECK(line(show.view, 1) == "‹B L A C K O U T›");
    show.view.progress.paused = show.show().panic = true;
    CHECK(line(show.view, 1) == "‹P A U S E D     B L A C K O U T     P A N I C›");
    CHECK(line(show.view, 1, 40) == "‹PAUSED BLACKOUT PANIC›");
    show.view.typed = "to cue 12.5_ (enter: go there)";
    CHECK(line(show.view, 1) ==
          "‹P A U S E D     B L A C K O U T     P A N I C›     ‹to cue 12.5_ (enter: go there)›");
    CHECK(line(show.view, 1, 40) == "‹PAUSED BLACKOUT PANIC›  ‹to cue 12.5_ (en…›");
    const std::string keys = line(show.view, 22) + line(show.view, 23);
    for (const char* key : {"k light back", "p go on", "x end panic"}) CHECK(has(keys, key));
}

TEST_CASE("the next cue says what it waits for", "[unit][console]") {
    test::ConsoleView show;
    Standing::List& main = show.show().lists[0];
    const auto next = [&] { return drawn(show.view, 80, 24); };
    main = {3, 4, {{{2, 0}}}, {}, 0, 0, show.show().now + 63 * 40'000};
    CHECK(has(next(), "‹5›    ‹Calm›                           ‹by itself in 1min 03s›"));
    CHECK(has(next(), "‹4›    ‹Storm, full›                    complete\n"));
    CHECK(has(next(), "note: Followspot off. Turn the page.\n"));
    main.pending = show.show().now - 1;  // due in the next frame
    CHECK(has(next(), "‹by itself in 0.0s›"));
    main.pending = show.show().now + Tick{5400 * 40'000};
    CHECK(has(next(), "‹by itself in 1h 30min 00s›"));
    main.pending.reset();
    CHECK(has(next(), "‹held, waits for GO›"));
    main.current = 5, main.next = 6;
    CHECK(has(next(), "‹at timecode 01:00:00:00›"));
    main.stopped = show.show().now, main.complete_at = show.show().now + 60'000;
    CHECK(has(next(), "fading out, 1.5s left\n"));
    main.complete_at = 0;
    CHECK(has(next(), "Morning›" + std::string(24, ' ') + "stopped\n"));
    main = {7, none, {{{6, 0}}}, {}, 0, 0, {}};
    CHECK(has(next(), "‹NEXT›    ‹nothing: that was the last cue›\n"));
    main = {none, 0, {}, {}, 0, 0, {}};
    CHECK(has(next(), "‹NOW›     ‹before the first cue›\n"));
    CHECK(has(next(), "‹1›   ‹Preset›                          ‹GO›\n"));
}

TEST_CASE("a cue that starts by itself says when, and where that is in the book", "[unit][console]") {
    test::ConsoleView show;
    show.roll.cues[4].page = "12";
    CHECK(waits_for(show.roll, 0, 4) == "3s after cue 4 is complete (page 12)");
    show.roll.cues[4].on = "bell";
    CHECK(waits_for(show.roll, 0, 4) == "3s after cue 4 is complete, on \"bell\" (page 12)");
    CHECK(waits_for(show.roll, 1, 9) == "10s after the GO of cue 1");
    show.roll.cues[3].next_ms = show.roll.cues[8].next_ms = 0;
    CHECK(waits_for(show.roll, 0, 4) == "when cue 4 is complete, on \"bell\" (page 12)");
    CHECK(waits_for(show.roll, 1, 9) == "with the GO of cue 1");
    CHECK(waits_for(show.roll, 0, 0) == "GO");
}

TEST_CASE("the chosen list and master are marked, and those out of sight counted", "[unit][console]") {
    test::ConsoleView show;
    show.view.list = 1;
    CHECK(line(show.view, 1) == std::string(71, ' ') + "‹list side›");
    const std::string side = drawn(show.view, 80, 24);
    CHECK(has(side, "\n‹NOW›     ‹1›   ‹Rain›"));
    CHECK(has(side, "\n‹NEXT›    ‹2›   ‹Wind›"));
    CHECK(has(side, "\nmain     now 3 Storm begins, fading"));
    CHECK_FALSE(has(side, "\nside "));
    show.view.submaster = 13;
    CHECK(has(drawn(show.view, 80, 24), "submasters 7 to 14 of 14‹, 1 more up›\n"));
    CHECK(has(drawn(show.view, 80, 24), "‹> ›‹14 Specials stage…   0%›"));
    show.view.grand = true;
    show.show().master = 32768;
    CHECK(has(drawn(show.view, 40, 12), "‹> grand master 50%›"));
    show.view.grand = false;  // still unusual
    CHECK(has(drawn(show.view, 40, 12), "‹grand master 50%›"));
}

TEST_CASE("many outputs that fail hide neither keys nor that masters out of sight are up",
          "[unit][console]") {
    test::ConsoleView show;
    for (int i = 0; i < 6; ++i)
        show.view.outputs.push_back({"E1.31 to node-" + std::to_string(i), false, "gone"});
    show.view.submaster = 13;
    for (std::size_t list = 1; list < 3; ++list) show.show().lists[list].current = none;
    for (unsigned rows = 16; rows <= 24; ++rows) {
        const std::string screen = drawn(show.view, 80, rows);
        CHECK((has(screen, ", 1 more up") || !has(screen, "not begun")));
    }
    show.view.help = true;
    const std::string page = drawn(show.view, 80, 24);
    CHECK(has(page, "control L"));
    CHECK(has(page, "q          then enter"));
}

TEST_CASE("a cue's number and its label stand apart", "[unit][console]") {
    test::ConsoleView show;
    show.roll.cues[6].number = 3125125;
    CHECK(has(drawn(show.view, 120, 40), "\n        3125.125 Noon  "));
    show.show().lists[0].next = 6;
    CHECK(has(drawn(show.view, 120, 40), "\n‹NEXT›    ‹3125.125›  ‹Noon›  "));
}

TEST_CASE("labels are shown as text, whatever they are", "[unit][console]") {
    test::ConsoleView show;
    show.roll.cues[3].label = "\033[2J\033]0;title\007 \u202Edark";
    show.roll.cues[3].on = "line\r\nbreak\t\xff";
    show.view.title = std::string(300, 'T');
    const std::string screen = drawn(show.view, 80, 24);
    CHECK(has(screen, "‹\uFFFD[2J\uFFFD]0;title\uFFFD dark›"));
    CHECK(has(screen, "‹on \"line break \uFFFD\"›"));
    CHECK(has(screen, "‹" + std::string(70, 'T') + "…›  0:42:19\n"));
}

TEST_CASE("every size is kept to, with wide signs and marks", "[unit][console]") {
    test::ConsoleView show;
    for (Cue& cue : show.roll.cues) {
        cue.label = "嵐の始まり";
        cue.note = "e\u0301toile 舞台前の明かりがとても長い 嵐";
        cue.on = "雷が二度鳴る";
    }
    for (unsigned columns = 0; columns < 130; ++columns)
        for (const unsigned rows : {0u, 1u, 2u, 5u, 12u, 24u, 50u}) {
            CAPTURE(columns, rows);
            const auto screen = draw(show.view, columns, rows);
            REQUIRE(screen.size() == rows);
            for (std::string text : screen) {
                for (const std::string_view bold : {"\033[1m", "\033[0m"})
                    for (std::size_t at; (at = text.find(bold)) != std::string::npos;)
                        text.erase(at, bold.size());
                REQUIRE(width(text) <= columns);
            }
        }
}
