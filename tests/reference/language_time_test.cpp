// Shows from their text to their slots: how fades run. Sources: "Time" of SEMANTICS and "Cues" of
// grammar/LANGUAGE.md. Edges are exact; between them the formulas are computed apart, in real numbers.
#include <catch2/catch.hpp>

#include "tests/support/played.hpp"

using tallow::test::Played;

namespace {

// `a`, `b`, `c`: 16-bit intensities; `w`: 16-bit emitters, position and beam under a real intensity.
const std::string rig = R"(
type fine
    mode  m   intensity intensity.fine
type every
    emitter red   xy 0.690 0.308   95 lm
    emitter blue  xy 0.145 0.045   30 lm
    mode  m   intensity intensity.fine red red.fine blue blue.fine pan pan.fine zoom zoom.fine
palette red   red full
palette blue  blue full
patch 1/1
    a        fine
    b        fine
    c        fine
    w        every
)";

}  // namespace

TEST_CASE("a cue's own times go to their classes", "[reference][language][time]") {
    // LANGUAGE, "Cues": `fade` sets every class; `up`, `down`, `colour`, `move`, `beam` override it in any
    // order; `up` alone sets `down` too and the other way round, and the rest takes `up`.
    struct Row {
        std::string words;
        int up, down, colour, move, beam;  // tenths of a second
    };
    const Row row = GENERATE(values<Row>({
        {"", 30, 30, 30, 30, 30},
        {"fade 4s", 40, 40, 40, 40, 40},
        {"up 2s", 20, 20, 20, 20, 20},
        {"down 2s", 20, 20, 20, 20, 20},
        {"up 8s  down 4s", 80, 40, 80, 80, 80},
        {"down 4s  up 8s", 80, 40, 80, 80, 80},
        {"fade 5s  up 1s", 10, 50, 50, 50, 50},
        {"down 1s  fade 5s", 50, 10, 50, 50, 50},
        {"colour 1s  move 2s  beam 4s  fade 8s", 80, 80, 10, 20, 40},
        {"cut", 0, 0, 0, 0, 0},
        {"cut  move 3s", 0, 0, 0, 30, 0},
        {"up 2s  beam 500ms", 20, 20, 20, 20, 5},
        {"colour 2min", 30, 30, 1200, 30, 30},
    }));
    CAPTURE(row.words);
    Played play(rig + R"(
cue 1 cut
    b          full
    w          red full  pan 0%  zoom 0%
cue 2 )" + row.words +
                R"(
    a          full
    b          out
    w          blue  pan full  zoom full
)");
    play.go(0);
    const std::uint64_t g = 1000;
    play.go(g);
    for (std::uint64_t t = 0; t <= 121'000; t += t < 8500 ? 100 : 5000) {
        play.at(g + t);
        const auto along = [&](int tenths) {
            return tenths == 0 ? 1.0L : std::min(1.0L, static_cast<long double>(t) / (100.0L * tenths));
        };
        play.nearly("a/intensity", along(row.up));
        play.nearly("b/intensity", 1 - along(row.down));
        play.nearly("w/red", 1 - along(row.colour));
        play.nearly("w/blue", along(row.colour));
        play.nearly("w/pan", along(row.move));
        play.nearly("w/zoom", along(row.beam));
    }
    play.exactly("a/intensity", 1);
    play.exactly("b/intensity", 0);
}

TEST_CASE("`defaults fade` is the time of a cue that names none", "[reference][language][time]") {
    Played play("    defaults  fade 5s\n" + rig + "cue 1\n    a full\n");
    play.go(0);
    play.at(2500).nearly("a/intensity", 0.5L);
    play.at(5000).exactly("a/intensity", 1);
    play.at(4999 + 1);
}

TEST_CASE("a fade begins at its delay and ends on its last tick exactly", "[reference][language][time]") {
    // SEMANTICS: p = clamp((t − D) / T, 0, 1); at p = 1 it is the goal; T = 0 jumps on the first t ≥ D.
    Played play(rig + R"(
cue 1  fade 3s  delay 1s
    a    full
    b    full  fade 0s
    c    70%   delay 2500ms  fade 1500ms
)");
    play.go(777, 13);
    play.at(1777, 13).exactly("a/intensity", 0);
    play.exactly("b/intensity", 1);
    play.at(1777, 33).nearly("a/intensity", 20 / 120'000.0L);
    play.at(3277, 13).exactly("c/intensity", 0);
    play.at(3277, 613);  // 15 ms later
    play.nearly("c/intensity", 0.7L * 15 / 1500);
    play.at(4777, 12);
    CHECK(play.slot("a/intensity") >= 65534);
    play.at(4777, 13).exactly("a/intensity", 1);
    play.exactly("c/intensity", 0.7L);
}

TEST_CASE("a jump after a delay waits for its very tick", "[reference][language][time]") {
    Played play(rig + "cue 1  cut  delay 1s\n    a full\n    b full  delay 250ms\n");
    play.go(100, 7);
    play.at(350, 6).exactly("b/intensity", 0);
    play.at(350, 7).exactly("b/intensity", 1);
    play.at(1100, 6).exactly("a/intensity", 0);
    play.at(1100, 7).exactly("a/intensity", 1);
}

TEST_CASE("each curve is its formula, rising and falling", "[reference][language][time]") {
    // SEMANTICS: linear p; ease p²(3 − 2p); visual p² rising, 1 − (1 − p)² falling.
    const std::string curve = GENERATE("linear", "ease", "visual");
    CAPTURE(curve);
    Played play(rig + "cue 1 cut\n    b 80%\n    w red full pan 10%\ncue 2 fade 4s curve " + curve +
                "\n    a 60%\n    b 20%\n    w blue pan 90%\n");
    play.go(0).go(1000);
    for (std::uint64_t t = 0; t <= 4000; t += 37) {
        play.at(1000 + t);
        const long double p = static_cast<long double>(t) / 4000;
        const long double up = curve == "linear" ? p : curve == "ease" ? p * p * (3 - 2 * p) : p * p;
        const long double down = curve == "visual" ? 1 - (1 - p) * (1 - p) : up;
        play.nearly("a/intensity", 0.6L * up);
        play.nearly("b/intensity", 0.8L - 0.6L * down);
        play.nearly("w/pan", 0.1L + 0.8L * up);
    }
}

TEST_CASE("a line's own fade and delay replace the header's for all that it does",
          "[reference][language][time]") {
    Played play(rig + R"(
cue 1 cut
    b  full
cue 2 up 2s  down 6s  delay 1s  curve visual
    a  full  fade 4s
    b  out   delay 3s
    c  full
)");
    play.go(0).go(0);
    for (std::uint64_t t = 0; t < 9500; t += 250) {
        play.at(t);
        const auto p = [&](long double delay, long double time) {
            return std::clamp((static_cast<long double>(t) - delay) / time, 0.0L, 1.0L);
        };
        play.nearly("a/intensity", p(1000, 4000) * p(1000, 4000));
        play.nearly("b/intensity", (1 - p(3000, 6000)) * (1 - p(3000, 6000)));
        play.nearly("c/intensity", p(1000, 2000) * p(1000, 2000));
    }
}

TEST_CASE("of two lines of a cue the later one's times hold", "[reference][language][time]") {
    Played play(rig +
                "cue 1 fade 9s\n    a full fade 8s\n    a 50% fade 2s\n    b full fade 2s\n    b 50%\n");
    play.go(0).at(1000).nearly("a/intensity", 0.25L);
    play.at(4500).nearly("b/intensity", 0.25L);
    play.exactly("a/intensity", 0.5L);
}

TEST_CASE("a GO in mid-fade goes on from the present value, held", "[reference][language][time]") {
    // SEMANTICS: the output never jumps; what the cue does not mention stays in the fade that it is in; a
    // value stated again takes its time from the new cue.
    Played play(rig + R"(
cue 1 fade 10s
    a, b, c  full
cue 2 fade 5s  delay 1s
    a        20%
    b        full
)");
    play.go(0).go(4000);
    const long double held = 0.4L;
    for (std::uint64_t t = 4000; t <= 11000; t += 173) {
        play.at(t);
        const long double p = std::clamp((static_cast<long double>(t) - 5000) / 5000, 0.0L, 1.0L);
        play.nearly("a/intensity", held + (0.2L - held) * p);
        play.nearly("b/intensity", held + (1 - held) * p);
        play.nearly("c/intensity", std::min(1.0L, t / 10000.0L));
    }
    play.exactly("a/intensity", 0.2L);
}

TEST_CASE("rising or falling is judged from the present value", "[reference][language][time]") {
    // In mid-fade: on its way to full, at 30 %, sent to 50 % it rises, to 10 % it falls.
    Played play(rig + "cue 1 fade 10s\n    a, b full\ncue 2 up 2s down 8s\n    a 50%\n    b 10%\n");
    play.go(0).go(3000);
    play.at(4000).nearly("a/intensity", 0.4L);
    play.nearly("b/intensity", 0.3L - 0.2L / 8);
    play.at(5000).exactly("a/intensity", 0.5L);
}

TEST_CASE("`follow` counts from a cue's completion, `next-at` from its GO, both to the tick",
          "[reference][language][time]") {
    // SEMANTICS, "Time": both are exact times, not rounded to a frame.
    Played play(rig + R"(
cue 1   fade 1s  delay 250ms  follow 333ms
    a   full
cue 2   cut  next-at 1s
    b   full
cue 2.5 fade 3s  next-at 10ms
    a   out
cue 3   cut  follow
    c   full
cue 4   cut
    c   out
)");
    play.go(11, 17);
    play.at(1594, 16);
    CHECK(play.cue() == 1000);
    play.at(1594, 17);
    CHECK(play.cue() == 2000);
    play.exactly("b/intensity", 1);
    play.at(2594, 16);
    CHECK(play.cue() == 2000);
    play.at(2594, 17);
    CHECK(play.cue() == 2500);
    play.at(2604, 16);
    CHECK(play.cue() == 2500);
    play.at(2604, 17);
    CHECK(play.cue() == 4000);  // `follow` behind a cut: at once
    play.exactly("c/intensity", 0);
    play.at(4094, 17).nearly("a/intensity", 0.5L);  // the fade of 2.5 counts from its own exact start
}

TEST_CASE("cues that start late by a frame still count from their exact times",
          "[reference][language][time]") {
    Played play(rig + "cue 1 cut next-at 333ms\n    a full\ncue 2 fade 1s\n    a out\n");
    play.go(0);
    play.at(1000).nearly("a/intensity", 1 - 0.667L);
}

TEST_CASE("a GO while the next cue is pending starts it at once and cancels the wait",
          "[reference][language][time]") {
    Played play(rig + R"(
cue 1 cut  follow 5s
    a  full
cue 2 cut
    b  full
cue 3 cut
    c  full
)");
    play.go(0).go(1000);
    CHECK(play.cue() == 2000);
    play.at(20000);
    CHECK(play.cue() == 2000);
    play.exactly("c/intensity", 0);
}

TEST_CASE("a cue is complete at the largest delay and time of its header and lines",
          "[reference][language][time]") {
    // SEMANTICS: whether or not anything moved.
    struct Row {
        std::string header, lines;
        std::uint64_t complete;
    };
    const Row row = GENERATE(values<Row>({
        {"fade 2s", "    a full", 2000},
        {"fade 2s delay 1s", "    a out", 3000},
        {"fade 2s move 7s", "    a full", 7000},
        {"cut", "    a full\n    b full  fade 4s", 4000},
        {"fade 5s", "    a full fade 1s", 5000},
        {"fade 2s delay 1s", "    a full fade 6s", 7000},
        {"fade 2s delay 1s", "    a full delay 9s", 11000},
        {"fade 2s", "    look slow", 8000},
        {"cut", "", 0},
    }));
    CAPTURE(row.header, row.lines);
    Played play(rig + "look inner\n    b full fade 8s\nlook slow\n    a full\n    look inner\ncue 1 " +
                row.header + " follow 1ms\n" + row.lines + "\ncue 2 cut\n    c full\n");
    play.go(500);
    if (row.complete > 0) play.at(500 + row.complete, 39);
    CHECK(play.cue() == 1000);
    play.at(501 + row.complete);
    CHECK(play.cue() == 2000);
}

TEST_CASE("colour, position and beam that change in the dark move at once", "[reference][language][time]") {
    // SEMANTICS: dark is a present level of 0 that is not on its way elsewhere.
    Played play(rig + R"(
cue 1 fade 4s
    w  blue full  pan full  zoom full
cue 2 fade 4s
    w  red  pan 0%
cue 3 fade 4s
    w  out
cue 4 fade 4s
    w  blue
cue 5 fade 4s
    w  red
)");
    play.go(0);
    play.at(0).exactly("w/blue", 1);  // it comes up as it will be
    play.exactly("w/red", 0);
    play.exactly("w/pan", 1);
    play.exactly("w/zoom", 1);
    play.exactly("w/intensity", 0);
    play.at(2000).nearly("w/intensity", 0.5L);
    play.go(5000).at(7000).nearly("w/red", 0.5L);
    play.nearly("w/pan", 0.5L);
    play.go(10000).go(12000);  // still going out: not dark
    play.at(12000).exactly("w/blue", 0);
    play.at(14000).nearly("w/blue", 0.5L);
    play.go(20000).exactly("w/red", 1);  // dark
    play.exactly("w/blue", 0);
}

TEST_CASE("cells are dark one by one", "[reference][language][time]") {
    // SEMANTICS, "Time": dark, cell by cell.
    Played play(R"(
palette red   red full
palette blue  blue full
patch 1/1
    row  strip-4
cue 1 cut
    row cell 1  red full
    row cell 2  red
cue 2 fade 2s
    row       blue
cue 3 cut
    row cell 2  full
)");
    play.go(0).go(1000);
    play.at(2000).nearly("row/1/red", 0.5L);
    play.go(2000);
    play.exactly("row/2/blue", 1);
    play.exactly("row/2/red", 0);
}

TEST_CASE("colours mix on their way as emitter levels, linearly", "[reference][language][time]") {
    Played play(R"(
palette dim   red 80%  green 10%
palette cold  red 20%  green 50%  blue full
patch 1/1
    p  par-rgb dimmed
cue 1 cut
    p  dim full
cue 2 fade 5s
    p  cold
)");
    play.go(0).go(0);
    for (std::uint64_t t = 0; t <= 5000; t += 125) {
        play.at(t);
        const long double c = t / 5000.0L;
        play.nearly("p/red", 0.8L - 0.6L * c);
        play.nearly("p/green", 0.1L + 0.4L * c);
        play.nearly("p/blue", c);
    }
}

TEST_CASE("a stated value that is already reached moves nothing", "[reference][language][time]") {
    Played play(rig +
                "cue 1 cut\n    a 60%\ncue 2 fade 9s curve visual\n    a 60%\ncue 3 fade 2s\n    a full\n");
    play.go(0).go(1000);
    for (std::uint64_t t = 1000; t < 4000; t += 111) play.at(t).exactly("a/intensity", 0.6L);
    play.go(4000).at(5000).nearly("a/intensity", 0.8L);
}

TEST_CASE("a point cue plays between its neighbours wherever it stands in the text",
          "[reference][language][time]") {
    // LANGUAGE, "Cues": cues play in number order.
    Played play(rig + R"(
cue 3 cut
    a  30%
cue 2.5 cut
    a  25%
cue 2.25 cut
    a  22%
cue 1 cut
    a  10%
cue 2 cut
    a  20%
cue 10 cut
    a  full
)");
    const std::pair<std::uint32_t, long double> due[] = {{1000, 0.1L},  {2000, 0.2L}, {2250, 0.22L},
                                                         {2500, 0.25L}, {3000, 0.3L}, {10000, 1}};
    std::uint64_t t = 0;
    for (const auto& [number, level] : due) {
        play.go(t += 100);
        CHECK(play.cue() == number);
        play.exactly("a/intensity", level);
    }
}
