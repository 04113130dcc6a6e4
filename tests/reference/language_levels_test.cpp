// Shows from their text to their slots: levels, colours, and what a fixture is. Sources: "Levels and slots"
// of SEMANTICS, and the sections of grammar/LANGUAGE.md named beside each case.
#include <catch2/catch.hpp>

#include "tests/support/played.hpp"

using tallow::test::Played;

namespace {

// Types for looking closely: 16 bits, a real intensity, ranges with and without a scale.
const std::string types = R"(
type fine
    mode  m   intensity intensity.fine
type wash
    emitter red   xy 0.690 0.308   95 lm
    emitter green xy 0.190 0.715  150 lm
    emitter blue  xy 0.145 0.045   30 lm
    mode  rgb   red green blue
    mode  full  intensity strobe zoom red - green blue program
    range strobe   open 0..9  rate 10..255 is 1Hz..20Hz
    range zoom     is 10deg..50deg
    range program  none 0..15  slow-drift 16..127  fast-drift 128..255
type deep
    emitter red   xy 0.690 0.308   95 lm
    emitter blue  xy 0.145 0.045   30 lm
    mode  m   red blue.fine red.fine blue
)";

}  // namespace

TEST_CASE("a level is rounded to the nearest slot, 50% to 128", "[reference][language][levels]") {
    // SEMANTICS: floor(255·v + 1/2), floor(65535·v + 1/2), coarse byte first.
    for (const int tenths : {0, 1, 2, 5, 100, 333, 500, 501, 667, 995, 999, 1000}) {
        const std::string level = std::to_string(tenths / 10) + "." + std::to_string(tenths % 10) + "%";
        Played play(types + "patch 1/1\n  a dimmer\n  b fine\ncue 1 cut\n  a, b " + level + "\n");
        play.go(0);
        play.exactly("a/intensity", tenths / 1000.0L);
        play.exactly("b/intensity", tenths / 1000.0L);
        CHECK(play.engine().slots(0)[1] * 256 + play.engine().slots(0)[2] == play.slot("b/intensity"));
    }
    Played half("patch 1/1\n  a dimmer\ncue 1 cut\n  a 50%\n");
    CHECK(half.go(0).slot("a/intensity") == 128);
}

TEST_CASE("dmx and dmx16 are slot values whatever the resolution", "[reference][language][levels]") {
    // LANGUAGE: `dmx 128` is 0..255 whatever the resolution, so that a change of mode keeps the light.
    for (const int value : {0, 1, 127, 128, 200, 255}) {
        Played play(types + "patch 1/1\n  a dimmer\n  b fine\ncue 1 cut\n  a, b dmx " +
                    std::to_string(value) + "\n");
        play.go(0);
        CHECK(play.slot("a/intensity") == value);
        CHECK(play.slot("b/intensity") == value * 257);
    }
    for (const int value : {0, 127, 128, 129, 384, 385, 40000, 65535}) {
        Played play(types + "patch 1/1\n  a dimmer\n  b fine\ncue 1 cut\n  a, b dmx16 " +
                    std::to_string(value) + "\n");
        play.go(0);
        CHECK(play.slot("a/intensity") == (value + 128) / 257);
        CHECK(play.slot("b/intensity") == value);
    }
}

TEST_CASE("before the first GO all is dark and at home", "[reference][language][levels]") {
    // SEMANTICS, "Time"; LANGUAGE, "Types": home is `open` where such a range exists, 50 % for pan and tilt,
    // else 0; under a real master, cells start at full.
    Played play(types + R"(
type lamp
    mode  m   intensity pan pan.fine tilt zoom iris
    home  iris 30%
type bar
    mode  zoned  intensity  2 x (intensity red green)
patch 1/1
    w  wash full
    l  lamp
    b  bar
    c  wash rgb
cue 1 cut
    w  full
)");
    play.exactly("w/intensity", 0);
    play.exactly("w/red", 1);  // given no colour yet: every visible emitter at full, under an intensity of 0
    CHECK(play.slot("w/strobe") == 4);  // the middle of `open`
    CHECK(play.slot("l/pan") == 32768);
    CHECK(play.slot("l/tilt") == 128);
    CHECK(play.slot("l/zoom") == 0);
    play.exactly("l/iris", 0.3L);
    play.exactly("b/intensity", 0);
    play.exactly("b/1/intensity", 1);
    play.exactly("c/red", 0);
    play.go(0);
    play.exactly("w/intensity", 1);
    play.exactly("l/intensity", 0);
}

TEST_CASE("a virtual intensity is multiplied into the colour with one rounding",
          "[reference][language][levels]") {
    // SEMANTICS: slot = intensity · colour, one rounding, at the end. 50 % of 50 % is 63.75: rounded twice it
    // would be 64 as well, so other pairs are tried, where it would not.
    for (const int level : {7, 33, 50, 61, 90})
        for (const int red : {3, 11, 50, 77}) {
            Played play(types + "patch 1/1\n  a wash rgb\n  d deep\ncue 1 cut\n  a, d " +
                        std::to_string(level) + "% emitter red " + std::to_string(red) + "%\n");
            play.go(0);
            play.nearly("a/red", level * red / 10000.0L);
            play.nearly("d/red", level * red / 10000.0L);
            CHECK(play.slot("a/red") == (play.slot("d/red") + 128) / 257);
        }
}

TEST_CASE("fine slots may stand anywhere in a mode, and unused slots send 0",
          "[reference][language][levels]") {
    Played play(types +
                "patch 1/1\n  d deep\n  w wash full\ncue 1 cut\n"
                "  d full emitter red dmx16 4660\n  d emitter blue dmx16 22136\n  w full\n");
    play.go(0);
    const auto slots = play.engine().slots(0);
    CHECK(slots[0] == 0x12);  // red
    CHECK(slots[1] == 0x78);  // blue, fine
    CHECK(slots[2] == 0x34);  // red, fine
    CHECK(slots[3] == 0x56);  // blue
    CHECK(slots[4 + 4] == 0);
    CHECK(slots[4 + 3] == 255);
    CHECK(slots[4 + 5] == 255);
}

TEST_CASE("`emitter` sets one emitter alone; on a fixture without a colour the others start at 0",
          "[reference][language][levels]") {
    // SEMANTICS, "Levels and slots".
    Played play(types + R"(
palette mix   red 20%  green 40%  blue 60%
patch 1/1
    a  wash full
    b  wash full
    c  wash full
cue 1 cut
    a      emitter red 40%  full
    b      mix full
    b      emitter red 80%
    c      full
cue 2 cut
    a      emitter blue 70%
cue 3 cut block
    a      emitter green 10%
)");
    play.go(0);
    play.exactly("a/red", 0.4L);
    play.exactly("a/green", 0);
    play.exactly("a/blue", 0);
    play.exactly("b/red", 0.8L);
    play.exactly("b/green", 0.4L);
    play.exactly("b/blue", 0.6L);
    play.exactly("c/green", 1);
    play.go(1000);
    play.exactly("a/red", 0.4L);
    play.exactly("a/blue", 0.7L);
    play.go(2000);  // block: as if no colour had ever been given
    play.exactly("a/red", 0);
    play.exactly("a/green", 0.1L);
    play.exactly("a/blue", 0);
    play.exactly("b/red", 1);
}

TEST_CASE("an emitter that a line leaves alone stays in the fade that it is in",
          "[reference][language][levels]") {
    // SEMANTICS, "Time": what a cue does not mention stays in the fade that it is in.
    Played play(types + R"(
palette none  red out  green out  blue out
palette warm  red full  green full  blue out
patch 1/1
    a  wash full
cue 1 cut
    a  none full
cue 2 fade 10s
    a  warm
cue 3 cut
    a  emitter red 30%
)");
    play.go(0).go(1000).go(3000);
    play.exactly("a/red", 0.3L);
    play.nearly("a/green", 0.2L);
    play.at(8000).nearly("a/green", 0.7L);
    play.at(11000).exactly("a/green", 1);
}

TEST_CASE("a palette of emitters is a whole colour, those not named at 0", "[reference][language][levels]") {
    // LANGUAGE, "Palettes".
    Played play(types + R"(
palette white       red full  green full  blue full
palette deep-water  blue full  green 20%
palette doorway     pan 12deg  tilt -30deg
patch 1/1
    a  wash full
    h  head
    d  dimmer
cue 1 cut
    all  white 50%
cue 2 cut
    all  deep-water
    all  doorway
)");
    play.go(0);
    play.exactly("a/red", 1);
    play.exactly("a/intensity", 0.5L);
    play.go(1000);
    play.exactly("a/red", 0);
    play.exactly("a/green", 0.2L);
    play.exactly("a/blue", 1);
    play.exactly("h/blue", 1);
    play.exactly("h/white", 0);
    play.exactly("d/intensity", 0.5L);
    play.nearly("h/pan", 0.5L + 12 / 540.0L);
    play.nearly("h/tilt", 0.5L - 30 / 270.0L);
}

TEST_CASE("a palette of emitters passes over a fixture that has none of them",
          "[reference][language][levels]") {
    Played play(R"(
type lime-par
    mode  colour  lime red
palette leaf  lime full
patch 1/1
    side  par-rgb
    park  lime-par
cue 1 cut
    side, park  #ff0000 full
cue 2 cut
    side, park  leaf
)");
    play.go(0).exactly("side/red", 1);
    play.go(1000).exactly("side/red", 1);
    play.exactly("park/lime", 1);
    play.exactly("park/red", 0);
}

TEST_CASE("a named range sends its middle, a scale speaks in its unit", "[reference][language][levels]") {
    // SEMANTICS, "Levels and slots"; LANGUAGE, "Types".
    Played play(types + R"(
patch 1/1
    a  wash full
cue 1 cut
    a  strobe 1Hz  program slow-drift  zoom 10deg
cue 2 cut
    a  strobe 4Hz  program fast-drift  zoom 20deg
cue 3 cut
    a  strobe 20Hz  program none  zoom 50deg
cue 4 cut
    a  strobe open  zoom 25%
)");
    play.go(0);
    CHECK(play.slot("a/strobe") == 10);
    CHECK(play.slot("a/program") == 71);
    CHECK(play.slot("a/zoom") == 0);
    play.go(1000);
    play.nearly("a/strobe", (10 + 245 * 3 / 19.0L) / 255);
    CHECK(play.slot("a/program") == 191);
    play.nearly("a/zoom", 0.25L);
    play.go(2000);
    CHECK(play.slot("a/strobe") == 255);
    CHECK(play.slot("a/program") == 7);
    CHECK(play.slot("a/zoom") == 255);
    play.go(3000);
    CHECK(play.slot("a/strobe") == 4);
    CHECK(play.slot("a/zoom") == 64);
}

TEST_CASE("values of a range without a scale jump at their delay, others fade",
          "[reference][language][levels]") {
    // SEMANTICS: values of unscaled ranges jump at their delay. One jump from or to such a range is a jump.
    Played play(types + R"(
patch 1/1
    a  wash full
    outlet  switched
cue 1 cut
    a  full  strobe 1Hz  program none  zoom 10deg
cue 2 fade 4s delay 1s
    a  strobe 20Hz  program fast-drift  zoom 50deg
    outlet  full
cue 3 fade 4s delay 1s
    a  strobe open
cue 4 fade 4s
    a  strobe 10Hz
)");
    play.go(0).go(1000);
    play.at(1999, 39);
    CHECK(play.slot("a/program") == 7);
    CHECK(play.slot("outlet/intensity") == 0);
    play.at(2000);
    CHECK(play.slot("a/program") == 191);
    CHECK(play.slot("a/strobe") == 10);
    play.at(4000);
    play.nearly("a/strobe", (10 + 245 / 2.0L) / 255);
    play.nearly("a/zoom", 0.5L);
    play.at(6000).go(7000).at(7999, 39);
    CHECK(play.slot("a/strobe") == 255);
    play.at(8000);
    CHECK(play.slot("a/strobe") == 4);
    play.go(9000).nearly("a/strobe", (10 + 245 * 9 / 19.0L) / 255);
}

TEST_CASE("a line for a whole fixture writes its master, else every cell", "[reference][language][levels]") {
    // LANGUAGE, "Looks, and what a line can say".
    Played play(types + R"(
type bar
    mode  zoned  intensity  2 x (intensity red green)
    mode  plain  2 x (red green)
patch 1/1
    z  bar zoned
    p  bar plain
palette green  green full
cue 1 cut
    z, p       green 40%
    z cell 2   50%
    p cell 2   70%
)");
    play.go(0);
    play.exactly("z/intensity", 0.4L);
    play.exactly("z/1/intensity", 1);
    play.exactly("z/2/intensity", 0.5L);
    play.exactly("z/1/green", 1);
    play.exactly("z/2/red", 0);
    play.exactly("p/1/green", 0.4L);
    play.exactly("p/2/green", 0.7L);
    play.exactly("p/2/red", 0);
}

TEST_CASE("a gang is one light with two bodies", "[reference][language][levels]") {
    // LANGUAGE, "Patch": a line on one of a gang counts for all of it.
    Played play(types + R"(
palette red   red full
patch 2/7
    twin 1..2  wash rgb  ganged
    next       dimmer
cue 1 cut
    twin 2     red 60%
    next       20%
)");
    play.go(0);
    const auto slots = play.engine().slots(0);
    CHECK(slots[6] == 153);
    CHECK(slots[7] == 0);
    CHECK(slots[9] == 51);  // the next fixture stands behind one body
}

TEST_CASE("later lines win, value by value", "[reference][language][levels]") {
    // LANGUAGE, "Looks, and what a line can say".
    Played play(types + R"(
palette red    red full
palette blue   blue full
patch 1/1
    a 1..2  wash full
look base
    a    red 40%
cue 1 cut
    a 1  70%
    look base
    a 2  blue
)");
    play.go(0);
    play.exactly("a/1/intensity", 0.4L);
    play.exactly("a/2/intensity", 0.4L);
    play.exactly("a/1/red", 1);
    play.exactly("a/2/red", 0);
    play.exactly("a/2/blue", 1);
}
