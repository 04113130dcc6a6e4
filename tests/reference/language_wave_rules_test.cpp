// Shows from their text to their slots: what waves do to values, to one another and from cue to cue. Source:
// "Waves" of SEMANTICS, and "Looks, and what a line can say" and "Waves" of grammar/LANGUAGE.md.
#include <catch2/catch.hpp>

#include "tests/support/played.hpp"

using tallow::test::Played;

namespace {

// Rises are easy to read: the value is the part of the turn that is over.
const std::string rig = R"(
type fine
    mode  m   intensity intensity.fine
type wash
    emitter red   xy 0.690 0.308   95 lm
    emitter blue  xy 0.145 0.045   30 lm
    range pan   is -270deg..270deg
    range zoom  is 10deg..50deg
    mode  m   intensity intensity.fine red red.fine blue blue.fine pan pan.fine zoom zoom.fine focus
palette red    red full
palette blue   blue full
palette mix    red 20%  blue 60%
wave saw     rise  period 1s
    intensity  out .. full
wave slow    rise  period 4s
    intensity  out .. full
wave tint    rise  period 1s
    red        out .. full
wave drift   rise  period 1s
    colour     red .. mix
wave pulse   rise  period 1s
    zoom       20deg .. 40deg
wave nod     rise  period 1s
    pan        -54deg .. 54deg
wave party   rise  period 1s
    intensity  out .. full
    blue       out .. full
    pan        -54deg .. 54deg
patch 1/1
    f 1..6  fine
    w 1..2  wash
    d       dimmer
)";

}  // namespace

TEST_CASE("intensity ends scale, colour and beam ends replace, position ends are offsets",
          "[reference][language][wave]") {
    Played play(rig + R"(
cue 1 cut
    w 1  mix 60%  pan 54deg  zoom 50deg
    w 1  wave saw  wave tint  wave pulse  wave nod
    w 2  full  wave drift
)");
    play.go(0);
    for (std::uint64_t t = 0; t < 1000; t += 50) {
        play.at(t);
        const long double f = t / 1000.0L;
        play.nearly("w/1/intensity", 0.6L * f);
        play.nearly("w/1/red", f);
        play.nearly("w/1/blue", 0);  // an emitter that the wave does not name is at 0
        play.nearly("w/1/zoom", 0.25L + 0.5L * f);
        play.nearly("w/1/pan", 0.6L - 0.1L + 0.2L * f);
        play.nearly("w/2/red", 1 - 0.8L * f);
        play.nearly("w/2/blue", 0.6L * f);
    }
}

TEST_CASE("a moved position stays between its ends", "[reference][language][wave]") {
    Played play(rig + "cue 1 cut\n    w 1  full  pan 243deg  wave nod\n");
    play.go(0).at(200).nearly("w/1/pan", 0.95L - 0.1L + 0.04L);
    play.at(900).exactly("w/1/pan", 1);
}

TEST_CASE("a new level keeps an intensity wave, which scales it", "[reference][language][wave]") {
    Played play(rig +
                "cue 1 cut\n    f 1 full wave saw\ncue 2 cut\n    f 1 40%\ncue 3 fade 2s\n    f 1 80%\n");
    play.go(0).at(500).nearly("f/1/intensity", 0.5L);
    play.go(600).nearly("f/1/intensity", 0.4L * 0.6L);
    play.at(1300).nearly("f/1/intensity", 0.4L * 0.3L);
    // The side that fades out goes on running under the fade.
    play.go(2000).at(3250).nearly("f/1/intensity", (0.4L + 0.4L * 1250 / 2000) * 0.25L);
    play.at(5500).nearly("f/1/intensity", 0.8L * 0.5L);
}

TEST_CASE("a new colour ends a colour wave and no other", "[reference][language][wave]") {
    const std::string ends = GENERATE("mix", "emitter blue 60%  emitter red 20%", "#ff00ff");
    Played play(rig + "cue 1 cut\n    w 1 blue full wave party\n    f 1 full wave saw\ncue 2 cut\n    w 1 " +
                ends + "\n");
    play.go(0).at(250).nearly("w/1/blue", 0.25L);
    play.nearly("w/1/red", 0);
    play.go(1500);
    const int blue = play.slot("w/1/blue");
    play.at(1900);
    CHECK(play.slot("w/1/blue") == blue);
    if (ends != "#ff00ff") play.exactly("w/1/blue", 0.6L);
    if (ends != "#ff00ff") play.exactly("w/1/red", 0.2L);
    play.nearly("w/1/intensity", 0.9L);  // its other classes run on
    play.nearly("w/1/pan", 0.5L - 0.1L + 0.2L * 0.9L);
}

TEST_CASE("one emitter named ends a colour wave on all of them", "[reference][language][wave]") {
    Played play(rig + "cue 1 cut\n    w 1 mix full wave drift\ncue 2 cut\n    w 1 emitter red 35%\n");
    play.go(0).go(500);
    play.exactly("w/1/red", 0.35L);
    play.exactly("w/1/blue", 0.6L);  // the colour beneath
    play.at(800).exactly("w/1/blue", 0.6L);
}

TEST_CASE("a new beam value ends its wave, a new position keeps its own", "[reference][language][wave]") {
    Played play(rig + R"(
cue 1 cut
    w 1  full  zoom 50deg  wave pulse  wave nod
cue 2 cut
    w 1  focus 40%
cue 3 cut
    w 1  zoom 30deg  pan 54deg
)");
    play.go(0).go(500).at(750).nearly("w/1/zoom", 0.25L + 0.375L);  // another beam parameter leaves it alone
    play.go(1000);
    play.exactly("w/1/zoom", 0.5L);
    play.at(1500).exactly("w/1/zoom", 0.5L);
    play.nearly("w/1/pan", 0.6L);
    play.at(1750).nearly("w/1/pan", 0.65L);
}

TEST_CASE("a new wave takes the place of one of its class", "[reference][language][wave]") {
    Played play(rig + R"(
cue 1 cut
    w 1  full  wave party
cue 2 cut
    w 1  wave slow
cue 3 cut
    w 1  wave tint
)");
    play.go(0).go(1300).at(1500);
    play.nearly("w/1/intensity", 0.2L / 4);  // begins at its own GO
    play.nearly("w/1/blue", 0.5L);
    play.go(2000).at(2250);
    play.nearly("w/1/red", 0.25L);
    play.nearly("w/1/blue", 0);
    play.nearly("w/1/intensity", 0.95L / 4);
    play.nearly("w/1/pan", 0.45L);
}

TEST_CASE("a new wave ends one of its class on the parameters that it leaves alone too",
          "[reference][language][wave]") {
    Played play(rig + R"(
wave blur  rise  period 1s
    focus  out .. full
cue 1 cut
    w 1  full  zoom 50deg  wave pulse
cue 2 cut
    w 1  wave blur
)");
    play.go(0).at(400).nearly("w/1/zoom", 0.45L);
    play.go(500).at(750).nearly("w/1/focus", 0.25L);
    play.exactly("w/1/zoom", 1);
}

TEST_CASE("`steady` ends waves back to what is beneath, in the cue's time", "[reference][language][wave]") {
    Played play(rig + R"(
cue 1 cut
    w 1  mix 80%  pan 54deg  zoom 50deg
    w 1  wave saw  wave tint  wave pulse  wave nod
cue 2 fade 2s
    w 1  steady
)");
    play.go(0).go(1000);
    for (std::uint64_t t = 0; t <= 2000; t += 125) {
        play.at(1000 + t);
        const long double c = t / 2000.0L, f = t % 1000 / 1000.0L;
        const auto mixed = [&](long double was, long double is) { return (1 - c) * was + c * is; };
        play.nearly("w/1/intensity", mixed(0.8L * f, 0.8L));
        play.nearly("w/1/red", mixed(f, 0.2L));
        play.nearly("w/1/blue", mixed(0, 0.6L));
        play.nearly("w/1/zoom", mixed(0.25L + 0.5L * f, 1));
        play.nearly("w/1/pan", mixed(0.5L + 0.2L * f, 0.6L));
    }
    play.exactly("w/1/intensity", 0.8L);
    play.exactly("w/1/zoom", 1);
}

TEST_CASE("a wave keeps its phase from cue to cue, and when it is stated again",
          "[reference][language][wave]") {
    Played play(rig + R"(
cue 1 cut
    f 1..2  full  wave slow
cue 2 cut
    f 3     full
cue 3 cut
    f 1..2  wave slow
cue 4 cut
    f 1..2  wave slow  period 2s
cue 5 cut
    f 1..2  wave slow  period 8s
)");
    play.go(0).go(700).go(1000);
    play.at(1600).nearly("f/2/intensity", 0.4L);
    play.go(2000).nearly("f/2/intensity", 0.5L);   // its phase at the GO
    play.at(2500).nearly("f/2/intensity", 0.75L);  // and the new speed
    play.go(2700).nearly("f/1/intensity", 0.85L);
    play.at(3100).nearly("f/1/intensity", 0.9L);
}

TEST_CASE("on another selection a wave's members start anew", "[reference][language][wave]") {
    Played play(rig + R"(
cue 1 cut
    f 1..2  full  wave slow
cue 2 cut
    f 2..3  full  wave slow
)");
    play.go(0).go(1000);
    play.at(2000);
    play.nearly("f/1/intensity", 0.5L);
    play.nearly("f/2/intensity", 0.25L);
    play.nearly("f/3/intensity", 0.25L);
}

TEST_CASE("a wave begins at its GO, whatever its fade and delay", "[reference][language][wave]") {
    Played play(rig + "cue 1 cut\n    f 1 full\ncue 2 fade 1s delay 500ms\n    f 1 wave slow\n");
    play.go(0).go(100);
    for (std::uint64_t t = 0; t < 3900; t += 100) {
        play.at(100 + t);
        const long double c = std::clamp((static_cast<long double>(t) - 500) / 1000, 0.0L, 1.0L);
        play.nearly("f/1/intensity", 1 - c + c * t / 4000);
    }
}

TEST_CASE("a wave put on rises or falls by the middle of its range", "[reference][language][wave][time]") {
    // From 40 % to a wave of 0..full over full, middle 50 %: it rises. Over 60 %, middle 30 %: it falls.
    Played play(rig + R"(
wave step  square  period 2min
    intensity  out .. full
cue 1 cut
    f 1..2  40%
cue 2 up 4s down 1s
    f 1     full  wave step
    f 2     60%   wave step
)");
    play.go(0).go(0).at(500);
    play.nearly("f/1/intensity", 0.4L + 0.6L / 8);
    play.nearly("f/2/intensity", 0.5L);
}

TEST_CASE("members that lack what a wave moves still count", "[reference][language][wave]") {
    Played play(rig + R"(
wave red-run  rise  period 1s  wavelength 8
    red        out .. full
wave run      rise  period 1s  wavelength 8
    intensity  out .. full
cue 1 cut
    w 1, d, w 2     full
    w 1, d, w 2     wave red-run
    f 1, w 1, f 2   full  wave run
)");
    play.go(0).at(500);
    play.nearly("w/1/red", 0.5L);
    play.nearly("w/2/red", 0.25L);
    play.exactly("d/intensity", 1);
    play.nearly("w/1/intensity", 0.375L);
    play.nearly("f/2/intensity", 0.25L);
}

TEST_CASE("a member named twice counts at its first place", "[reference][language][wave]") {
    Played play(rig + R"(
wave run  rise  period 1s  wavelength 8
    intensity  out .. full
patch 2/1
    bar  strip-4
wave cells  rise  period 1s  wavelength 8
    red  out .. full
cue 1 cut
    f 1, 2, 1, 3, 2, 4   full  wave run
    bar                  full
    bar cell 2, bar      wave cells
)");
    play.go(0).at(500);
    play.nearly("f/1/intensity", 0.5L);
    play.nearly("f/2/intensity", 0.375L);
    play.nearly("f/3/intensity", 0.25L);
    play.nearly("f/4/intensity", 0.125L);
    play.nearly("bar/2/red", 0.5L);  // the cell, then the whole strip as one member
    play.nearly("bar/1/red", 0.375L);
    play.nearly("bar/4/red", 0.375L);
}

TEST_CASE("a gang counts once in a wave, at its first one's place", "[reference][language][wave]") {
    Played play(rig + R"(
wave run  rise  period 1s  wavelength 8
    intensity  out .. full
patch 2/1
    twin 1..3  fine  ganged
cue 1 cut
    f 1, twin 2, f 2, twin 3, f 3   full  wave run
)");
    play.go(0).at(500);
    play.nearly("f/1/intensity", 0.5L);
    play.nearly("twin/1/intensity", 0.375L);
    play.nearly("f/2/intensity", 0.25L);
    play.nearly("f/3/intensity", 0.125L);
}

TEST_CASE("a wave on a whole fixture moves its master, on its cells their own",
          "[reference][language][wave]") {
    Played play(rig + R"(
type bar
    mode  zoned  intensity  3 x (intensity red blue)
    mode  plain  3 x (red blue)
wave run  rise  period 1s  wavelength 8
    intensity  out .. full
patch 2/1
    z 1..2  bar zoned
    p       bar plain
cue 1 cut
    z 1..2, p   red full
    z 1         wave run
    z 2 cells   wave run
    p cells     wave run
)");
    play.go(0).at(500);
    play.nearly("z/1/intensity", 0.5L);
    play.exactly("z/1/3/intensity", 1);
    play.exactly("z/2/intensity", 1);
    play.nearly("z/2/1/intensity", 0.5L);
    play.nearly("z/2/3/intensity", 0.25L);
    play.nearly("p/1/red", 0.5L);
    play.nearly("p/3/red", 0.25L);
}

TEST_CASE("a wave on both a master and the light beneath is dark where its level is 0",
          "[reference][language][wave]") {
    // A wave over a level of 0 is dark: what moves there moves at once.
    Played play(rig +
                "cue 1 cut\n    w 1 wave saw\ncue 2 fade 4s\n    w 1 red\ncue 3 fade 1s\n    w 1 full\n");
    play.go(0).at(500).exactly("w/1/intensity", 0);
    play.go(1000).exactly("w/1/blue", 0);
    play.exactly("w/1/red", 1);
    play.go(2000).at(3500).nearly("w/1/intensity", 0.5L);
}

TEST_CASE("a GO in mid-fade under a wave holds the value of that instant", "[reference][language][wave]") {
    Played play(rig + R"(
cue 1 fade 4s
    f 1  full  wave slow
cue 2 fade 2s
    f 1  20%   steady
)");
    play.go(0).go(2000);
    const long double held = 0.5L * 0.5L;  // half way up, half a turn
    for (std::uint64_t t = 0; t <= 2000; t += 100) {
        play.at(2000 + t);
        play.nearly("f/1/intensity", held + (0.2L - held) * t / 2000);
    }
}
