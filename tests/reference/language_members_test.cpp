// Shows from their text to their slots: lines whose members differ. Source: "Spreads", "look", "hang" and
// "Waves in numbers" of grammar/LANGUAGE.md; the expected values are computed apart, in exact fractions.
#include <catch2/catch.hpp>

#include "tests/support/played.hpp"
#include "tests/support/rational.hpp"

using tallow::test::Played;
using tallow::test::Rational;

namespace {

const std::string rig =
    "type fine\n    mode  m   intensity intensity.fine\n    mode zoomed intensity zoom zoom.fine\n"
    "    range zoom is 0deg..100deg\n"
    "patch 1/1\n    row 1..5  fine\n    beam 1..5 fine zoomed\n    side 1..3 par-rgb dimmed\n"
    "    cyc strip-4\n    mover 1..3 head\n    lone fine\n";

std::string row(int i) {
    return "row/" + std::to_string(i + 1) + "/intensity";
}

}  // namespace

TEST_CASE("a spread gives member i of n the fraction i / (n - 1) of its way",
          "[reference][language][spread]") {
    Played play(rig +
                "cue 1 cut\n    row 4..1, row 5  20% .. 80%\n    lone  30% .. full\n"
                "    beam  full  zoom 10deg .. 40deg\n    side  emitter red out .. full\n");
    play.go(0);
    const int order[] = {3, 2, 1, 0, 4};
    for (int i = 0; i < 5; ++i) {
        play.exactly(row(order[i]), 0.2L + 0.6L * i / 4);
        play.nearly("beam/" + std::to_string(i + 1) + "/zoom", 0.1L + 0.3L * i / 4);
    }
    play.exactly("lone/intensity", 0.3L);
    for (int i = 0; i < 3; ++i) play.exactly("side/" + std::to_string(i + 1) + "/red", 0.5L * i);
}

TEST_CASE("members that lack what is spread count, and a strip is one member",
          "[reference][language][spread]") {
    Played play(rig +
                "cue 1 cut\n"
                "    row 1, mover 1, cyc, row 2  out .. 90%\n    row 3, beam 1  zoom 20deg .. 60deg\n");
    play.go(0);
    play.exactly(row(0), 0);
    play.exactly("mover/1/intensity", 0.3L);
    for (int cell = 1; cell <= 4; ++cell)  // of a virtual intensity, and no colour yet
        play.nearly("cyc/" + std::to_string(cell) + "/red", 0.6L);
    play.exactly(row(1), 0.9L);
    play.nearly("beam/1/zoom", 0.6L);
}

TEST_CASE("a spread of colours mixes the emitter levels of its ends", "[reference][language][spread]") {
    const std::string ends = "palette deep blue full green 20%\npalette warm red full green 60%\n";
    Played play(rig + ends +
                "cue 1 cut\n    side  deep .. warm  full\n    mover full #ff0000 .. 3200K\n"
                "cue 2 cut\n    mover 2  #ff0000\ncue 3 cut\n    mover 2  3200K\n");
    play.go(0);
    for (int i = 0; i < 3; ++i) {
        const std::string side = "side/" + std::to_string(i + 1);
        play.exactly(side + "/red", 0.5L * i);
        play.exactly(side + "/green", 0.2L + 0.2L * i);
        play.exactly(side + "/blue", 1 - 0.5L * i);
    }
    for (const std::string emitter : {"/red", "/green", "/blue", "/white"}) {
        CHECK(std::abs(2 * play.slot("mover/2" + emitter) -
                       (play.slot("mover/1" + emitter) + play.slot("mover/3" + emitter))) <= 1);
    }
    const int first = play.slot("mover/1/green"), last = play.slot("mover/3/green");
    play.go(100);
    CHECK(play.slot("mover/2/green") == first);
    play.go(200);
    CHECK(play.slot("mover/2/green") == last);
    CHECK(first != last);
}

TEST_CASE("palettes of positions spread where both have a value", "[reference][language][spread][palette]") {
    Played play(
        rig +
        "palette door pan -90deg tilt 45deg\n    mover 2  pan 0deg\n"
        "palette window pan 90deg\ncue 1 cut\n    mover  door\ncue 2 cut\n    mover  door .. window\n");
    const auto pan = [](long double degrees) { return (degrees + 270) / 540; };
    play.go(0);
    play.nearly("mover/1/pan", pan(-90));
    play.nearly("mover/2/pan", pan(0));
    play.nearly("mover/2/tilt", (45.0L + 135) / 270);
    play.go(100);
    play.nearly("mover/1/pan", pan(-90));
    play.nearly("mover/2/pan", pan(45));  // half way from its own 0 to 90
    play.nearly("mover/3/pan", pan(90));
    play.nearly("mover/1/tilt", (45.0L + 135) / 270);
}

TEST_CASE("spreads of times start and end member by member, and the cue with the last",
          "[reference][language][spread][time]") {
    Played play(rig +
                "cue 1 fade 9s follow\n    row  full  delay 0s .. 2s  fade 4s .. 1s\n"
                "cue 2 cut\n    lone full\n");
    play.go(0);
    for (int ms = 0; ms <= 4000; ms += 125) {
        play.at(static_cast<std::uint64_t>(ms));
        for (int i = 0; i < 5; ++i) {
            const Rational p = Rational(ms - 500 * i, 4000 - 750 * i);
            play.nearly(row(i), std::min(1.0L, std::max(0.0L, p.real())));
        }
    }
    CHECK(play.cue() == 1000);
    play.at(8999);
    CHECK(play.cue() == 1000);
    play.at(9000);
    CHECK(play.cue() == 2000);
}

TEST_CASE("a cue is complete with the longest member of a spread", "[reference][language][spread][time]") {
    Played play(rig + "cue 1 fade 1s follow\n    row  full  delay 0s .. 5s\ncue 2 cut\n    lone full\n");
    play.go(0).at(5999);
    CHECK(play.cue() == 1000);
    play.at(6000);
    CHECK(play.cue() == 2000);
}

TEST_CASE("a spread over one member takes its first time alone", "[reference][language][spread][time]") {
    Played play(rig +
                "cue 1 cut follow 0s\n    lone  full  delay 1s .. 9s\n"
                "cue 2 cut\n    row 1  full\n");
    play.go(0).at(975).exactly("lone/intensity", 0);
    play.exactly(row(0), 0);
    play.at(1000).exactly("lone/intensity", 1);
    play.exactly(row(0), 1);
}

TEST_CASE("a part of a look that holds a part of another comes to what both concern",
          "[reference][language][look]") {
    Played play(rig +
                "look inner\n    row  80%\n    lone 80%\nlook outer\n    row 1..3  look inner\n    beam 50%\n"
                "cue 1 cut\n    row 2..5, beam 1  look outer\n");
    play.go(0);
    for (int i = 0; i < 5; ++i) play.exactly(row(i), i == 1 || i == 2 ? 0.8L : 0);
    play.exactly("lone/intensity", 0);
    play.exactly("beam/1/intensity", 0.5L);
    play.exactly("beam/2/intensity", 0);
}

TEST_CASE("a scaled look scales its levels, once, through the looks in it", "[reference][language][look]") {
    Played play(rig +
                "look a\n    row  out .. full\n    side full #ff0000\nlook b\n    look a 50%\n    lone 80%\n"
                "cue 1 cut\n    look b 60%\n");
    play.go(0);
    for (int i = 0; i < 5; ++i) play.exactly(row(i), 0.3L * i / 4);
    play.exactly("side/1/intensity", 0.3L);
    play.exactly("side/1/red", 1);
    play.exactly("lone/intensity", 0.48L);
}

TEST_CASE("the part of a look goes to the selection alone, at the places of the look",
          "[reference][language][look]") {
    Played play(rig +
                "wave w rise period 5s wavelength 5\n    intensity out .. full\n"
                "look storm\n    row  20% .. 60%\n    cyc  #ff0000 80%\n    lone  full\n"
                "look run\n    row  full  wave w\n"
                "cue 1 cut\n    row 2, row 5, cyc cell 2  look storm\ncue 2 cut\n    row 4  look run\n");
    play.go(0);
    play.exactly(row(0), 0);
    play.exactly(row(1), 0.3L);
    play.exactly(row(4), 0.6L);
    play.exactly("lone/intensity", 0);
    CHECK(play.slot("cyc/2/red") == 204);
    CHECK(play.slot("cyc/1/red") == 0);
    play.go(100);
    play.nearly(row(3), 0.4L);  // a turn less 3 / 5
    play.exactly(row(4), 0.6L);
}

TEST_CASE("a wave in metres takes its phase from where members hang", "[reference][language][wave][hang]") {
    struct Case {
        std::string words;
        int doubled[3];  // distances, in half metres
    };
    // Places: row 1 at 1 m, row 2 at -3 m, row 3 at 2 m; depths 4 m.
    const std::vector<Case> cases = {{"along x", {2, -6, 4}},
                                     {"along x travel backward", {-2, 6, -4}},
                                     {"along x travel outward", {3, 5, 5}},
                                     {"along depth", {8, 8, 8}}};
    for (const Case& c : cases) {
        Played play(rig +
                    "hang bar depth 4m\n    row 1..3  1m, -3m, 2m\nwave w rise period 10s wavelength 8m " +
                    c.words + "\n    intensity out .. full\ncue 1 cut\n    row 1..3  full wave w\n");
        play.go(0);
        for (int i = 0; i < 3; ++i) {
            CAPTURE(c.words, i);
            play.nearly(row(i), Rational(-c.doubled[i], 16).fraction().real());
        }
    }
}

TEST_CASE("a gang stands where its first body does", "[reference][language][hang]") {
    Played play(
        "patch 1/1\n    twin 1..2 dimmer ganged\n    front 1 dimmer\n"
        "hang bar height 5m depth 1m\n    twin 1  3m\n    twin 2  -3m\n    front 1  0m\n"
        "cue 1 cut\n    all by x  20% .. 80%\n");
    play.go(0).exactly("front/1/intensity", 0.2L);
    play.exactly("twin/1/intensity", 0.8L);
}

TEST_CASE("positions order a selection, cells by their part of the length", "[reference][language][hang]") {
    Played play(rig +
                "hang bar height 3m\n    row 1..3  1m, -3m, 2m\n    cyc  1.5m\ncue 1 cut\n"
                "    row 1..3 by x  20% .. 60%\n    row 1, cyc cells by x  out .. full\n");
    play.go(0);
    play.exactly(row(1), 0.2L);
    play.exactly(row(2), 0.6L);
    play.exactly(row(0), 0);  // before all cells: the strip is 1 m long, its first cell at 1.125 m
    for (int cell = 1; cell <= 4; ++cell) play.nearly("cyc/" + std::to_string(cell) + "/red", cell * 0.25L);
}
