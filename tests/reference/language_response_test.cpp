// Shows from their text to their slots: how light follows a slot, filters, wheels and balanced groups.
// Source: "Response", "Colours without emitters" and "Balanced groups" of grammar/LANGUAGE.md; L* of CIE 15,
// sRGB of IEC 61966-2-1. The expected values are computed apart, in real numbers.
#include <catch2/catch.hpp>
#include <cmath>

#include "compiler/desk/pictures.hpp"
#include "tests/support/played.hpp"

using tallow::test::Played;

namespace {

const std::string rig = R"(
type wide
    mode     one  red red.fine
patch 1/1
    plain        dimmer
    flat         dimmer   response linear
    old          dimmer   response square
    eye          dimmer   response lightness
    drawn        dimmer   response points 0% 0%, 50% 20%, 100% full
    warm         dimmer   response linear  preheat 4%
    led          dimmer   response linear  floor 6%
    only         dimmer   preheat 10%
    glow         wide     response square
    par          par-rgb  response linear  floor 6%
cue 1  fade 10s
    plain, flat, old, eye, drawn, warm, led, only, glow  full
cue 2  cut
    all  out
cue 3  cut
    glow, par  emitter red 50%  40%
)";

// The slot of CIE lightness for a relative light.
long double of_light(long double y) {
    return y > 0.008856L ? 1.16L * std::cbrt(y) - 0.16L : 9.032963L * y;
}

}  // namespace

TEST_CASE("light follows a level alike on unlike dimmers", "[reference][language][response]") {
    Played play(rig);
    play.at(0).nearly("warm/intensity", 0.04L);
    play.nearly("only/intensity", 0.1L);
    play.nearly("led/intensity", 0);
    play.go(0);
    for (unsigned ms = 500; ms <= 10'000; ms += 500) {
        play.at(ms);
        const long double v = ms / 10'000.0L, y = v * v;
        play.nearly("plain/intensity", v);
        play.nearly("flat/intensity", y);
        play.nearly("old/intensity", v);
        play.nearly("eye/intensity", of_light(y));
        play.nearly("drawn/intensity", y < 0.2L ? 2.5L * y : 0.5L + (y - 0.2L) * 0.625L);
        play.nearly("warm/intensity", 0.04L + 0.96L * y);
        play.nearly("led/intensity", 0.06L + 0.94L * y);
        play.nearly("only/intensity", 0.1L + 0.9L * v);
    }
    play.master(50, 12'000).nearly("flat/intensity", 0.25L);
    play.nearly("warm/intensity", 0.04L + 0.96L * 0.25L);
    play.go(13'000).exactly("led/intensity", 0);
    play.nearly("warm/intensity", 0.04L);
}

TEST_CASE("emitters under a virtual intensity respond as light", "[reference][language][response]") {
    Played play(rig);
    play.go(0).go(11'000).go(12'000);
    play.nearly("glow/red", std::sqrt(0.16L * 0.5L));
    play.nearly("par/red", 0.06L + 0.94L * 0.16L * 0.5L);
    play.exactly("par/green", 0);
}

TEST_CASE("the show's own law says what light a level stands for", "[reference][language][response]") {
    const std::string cue =
        "patch 1/1\n    led dimmer response linear\n    old dimmer response square\n"
        "cue 1 cut\n    led, old 50%\n";
    Played linear(cue, "    response linear\n");
    linear.go(0).nearly("led/intensity", 0.5L);
    linear.nearly("old/intensity", std::sqrt(0.5L));
    Played lightness(cue, "    response lightness\n");
    lightness.go(0).nearly("led/intensity", 0.184187L);  // of L* 50 (CIE 15)
    lightness.nearly("old/intensity", std::sqrt(0.184187L));
}

TEST_CASE("a desk's faders are set to what is sent", "[reference][language][response]") {
    Played play(
        "patch 1/1\n    led dimmer response linear\n    par wide response square\n"
        "type wide\n    mode one red\n"
        "desk hall plays universe 1\n    layout pair 8 channels 2 scenes\n"
        "cue 1 cut\n    led 50%\n    par emitter red 50% 40%\n");
    const auto& c = play.compilation();
    const auto pictures = tallow::desk::take_pictures(c.show, *c.book, c.show.desks.at(0));
    REQUIRE(pictures.cues.at(0).wanted.size() == 2);
    CHECK(pictures.cues[0].wanted[0] == Approx(25e6).margin(1e4));
    CHECK(pictures.cues[0].wanted[1] == Approx(std::sqrt(0.08) * 1e8).margin(1e4));
}

TEST_CASE("filters take away what a colour lacks", "[reference][language][colour]") {
    Played play(
        "type soft\n    mode one intensity cyan magenta yellow\n    filters cyan magenta yellow\n"
        "patch 1/1\n    soft soft\ncue 1 cut\n    soft full\ncue 2 cut\n    soft #ff8040\n");
    play.go(0).exactly("soft/cyan", 0);  // without a colour it is white
    play.exactly("soft/yellow", 0);
    play.go(1000).nearly("soft/cyan", 0);
    const auto decoded = [](long double c) { return std::pow((c + 0.055L) / 1.055L, 2.4L); };
    play.nearly("soft/magenta", 1 - decoded(128 / 255.0L));
    play.nearly("soft/yellow", 1 - decoded(64 / 255.0L));
}

TEST_CASE("a wheel takes the nearest of its colours, at the delay", "[reference][language][colour]") {
    Played play(
        "type disc\n    mode one intensity disc\n"
        "    wheel disc open 0..9 6500K amber 10..19 #ffb000 blue 20..29 #0000ff spin 128..255\n"
        "patch 1/1\n    disc 1..2 disc\ncue 1 cut\n    disc #ffb000 full\n"
        "cue 2 fade 4s delay 1s\n    disc #0000ff\ncue 3 cut\n    disc 6500K .. #ffb000\n");
    play.go(0);
    CHECK(play.slot("disc/1/disc") == 14);
    play.go(1000).at(1999);
    CHECK(play.slot("disc/1/disc") == 14);
    play.at(2000);
    CHECK(play.slot("disc/1/disc") == 24);
    play.go(3000);
    CHECK(play.slot("disc/1/disc") == 4);
    CHECK(play.slot("disc/2/disc") == 14);
}

TEST_CASE("kinds of a balanced group are equally bright in a colour, and as bright as can be",
          "[reference][language][colour]") {
    const auto type = [](const std::string& name, const std::string& blue, int r, int g, int b) {
        return "type " + name + "\n    mode one red red.fine green green.fine blue blue.fine intensity\n" +
               "    emitter red xy 0.69 0.308 " + std::to_string(r) +
               " lm\n    emitter green xy 0.19 0.715 " + std::to_string(g) + " lm\n    emitter blue xy " +
               blue + " " + std::to_string(b) + " lm\n";
    };
    Played play(
        type("bright", "0.145 0.045", 190, 300, 60) + type("dark", "0.155 0.03", 90, 110, 20) +
        "patch 1/1\n    bright 1..2 bright\n    dark 1..2 dark\ngroup pair bright 1, dark 1 balanced\n"
        "cue 1 cut\n    all #ffb000 full\ncue 2 cut\n    all xy 0.3 0.3\ncue 3 cut\n    all hue 300deg\n");
    const auto light = [&](const std::string& fixture, int r, int g, int b) {
        return (r * play.slot(fixture + "/red") + g * play.slot(fixture + "/green") +
                b * play.slot(fixture + "/blue")) /
               65535.0;
    };
    for (unsigned cue = 0; cue < 3; ++cue) {
        play.go(1000 * cue);
        const double dark = light("dark/1", 90, 110, 20), bright = light("bright/1", 190, 300, 60);
        CHECK(bright == Approx(dark).epsilon(1e-3));
        CHECK(light("bright/2", 190, 300, 60) > 1.2 * bright);  // not of the group
        CHECK(light("dark/2", 90, 110, 20) == Approx(dark));    // the darkest gives nothing up
    }
}
