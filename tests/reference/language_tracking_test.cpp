// Shows from their text to their slots: what each cue leaves as it was. Source: "Cues" of
// grammar/LANGUAGE.md.
#include <catch2/catch.hpp>

#include "tests/support/played.hpp"

using tallow::test::Played;

namespace {

const std::string rig = R"(
palette red    red full
palette blue   blue full
wave saw  rise  period 1s
    intensity   out .. full
patch 1/1
    a 1..10  dimmer
    p 1..2   par-rgb dimmed
)";

}  // namespace

TEST_CASE("what a cue does not mention stays as it was, over ten cues", "[reference][language][tracking]") {
    std::string text = rig;
    for (int i = 1; i <= 10; ++i)
        text += "cue " + std::to_string(i) + " fade 1s\n    a " + std::to_string(i) + " " +
                std::to_string(9 * i) + "%\n";
    text += "cue 11 cut\n    a out\n";
    Played play(text);
    for (int i = 1; i <= 10; ++i) {
        play.go(2000u * static_cast<unsigned>(i)).at(2000u * static_cast<unsigned>(i) + 1500);
        for (int k = 1; k <= 10; ++k)
            play.exactly("a/" + std::to_string(k) + "/intensity", k <= i ? k * 0.09L : 0);
    }
    play.go(30000);
    for (int k = 1; k <= 10; ++k) play.exactly("a/" + std::to_string(k) + "/intensity", 0);
}

TEST_CASE("a cue without lines is a pause, and all stays", "[reference][language][tracking]") {
    Played play(rig + "cue 1 cut\n    a 1 40%\ncue 2\ncue 3 cut\n    a 2 50%\n");
    play.go(0).go(100);
    play.exactly("a/1/intensity", 0.4L);
    play.go(200).exactly("a/1/intensity", 0.4L);
    play.exactly("a/2/intensity", 0.5L);
}

TEST_CASE("a cue-only cue leaves no trace", "[reference][language][tracking]") {
    // LANGUAGE: the next cue starts from the state before this one; it comes back in the next cue's times.
    Played play(rig + R"(
cue 1 cut
    a 1..3   60%
    p        red full
cue 2 cut  cue-only
    all      out
    p 1      blue
    a 4      50%
    a 4      70%
cue 3 fade 2s
    a 1      80%
cue 4 cut
    a 5      full
)");
    play.go(0).go(1000);
    play.exactly("a/1/intensity", 0);
    play.exactly("a/4/intensity", 0.7L);
    play.go(2000);
    play.at(3000).nearly("a/1/intensity", 0.4L);
    play.nearly("a/2/intensity", 0.3L);
    play.nearly("p/1/intensity", 0.5L);
    play.nearly("a/4/intensity", 0.35L);
    play.exactly("p/1/red", 1);  // dark at the GO
    play.at(4000);
    play.exactly("a/1/intensity", 0.8L);
    play.exactly("a/3/intensity", 0.6L);
    play.exactly("a/4/intensity", 0);
    play.exactly("p/1/intensity", 1);
    play.exactly("p/1/blue", 0);
    play.go(5000).exactly("a/2/intensity", 0.6L);
}

TEST_CASE("cue-only cues in a row each start from the state before the first",
          "[reference][language][tracking]") {
    Played play(rig + R"(
cue 1 cut
    a 1  60%
cue 2 cut cue-only
    a 1  10%
    a 2  20%
cue 3 cut cue-only
    a 3  30%
cue 4 cut
    a 4  40%
)");
    play.go(0).go(1).go(2);
    play.exactly("a/1/intensity", 0.6L);
    play.exactly("a/2/intensity", 0);
    play.exactly("a/3/intensity", 0.3L);
    play.go(3);
    play.exactly("a/3/intensity", 0);
    play.exactly("a/1/intensity", 0.6L);
}

TEST_CASE("what a cue-only cue restored and left alone stays in that fade",
          "[reference][language][tracking]") {
    Played play(rig + R"(
cue 1 cut
    a 1  60%
cue 2 cut cue-only
    a 1  out
cue 3 fade 6s cue-only
    a 2  30%
cue 4 cut
    a 3  full
)");
    play.go(0).go(1000).go(2000).go(4000);
    play.exactly("a/2/intensity", 0);  // cue 3's own
    play.nearly("a/1/intensity", 0.2L);
    play.at(5000).nearly("a/1/intensity", 0.3L);
    play.at(8000).exactly("a/1/intensity", 0.6L);
}

TEST_CASE("after a cue-only cue a wave runs as if it had never stopped", "[reference][language][tracking]") {
    // SEMANTICS, "Waves".
    Played play(rig + R"(
cue 1 cut
    a 1  full  wave saw
cue 2 cut cue-only
    a 1  30%  steady
cue 3 cut
)");
    play.go(0).at(300).nearly("a/1/intensity", 0.3L);
    play.go(450).at(700).exactly("a/1/intensity", 0.3L);
    play.go(1200).nearly("a/1/intensity", 0.2L);
    play.at(1950).nearly("a/1/intensity", 0.95L);
}

TEST_CASE("a wave that only a cue-only cue brings is gone after it", "[reference][language][tracking]") {
    Played play(rig + R"(
cue 1 cut
    a 1  80%
cue 2 cut cue-only
    a 1  full  wave saw
cue 3 cut
cue 4 cut
    a 1  full  wave saw
)");
    play.go(0).go(100).at(200).nearly("a/1/intensity", 0.1L);
    play.go(300).exactly("a/1/intensity", 0.8L);
    play.at(777).exactly("a/1/intensity", 0.8L);
    play.go(5450).exactly("a/1/intensity", 0);  // begins anew at its own GO
}

TEST_CASE("`block` starts from nothing", "[reference][language][tracking]") {
    // LANGUAGE: what this cue does not name is out and at home, so no earlier change passes it.
    Played play(rig + R"(
type lamp
    mode  m  intensity pan tilt zoom
    home  zoom 30%
patch 2/1
    h  lamp
cue 1 cut
    a    60%
    p    blue full
    h    full  pan 90%  zoom full
    a 1  wave saw
cue 2 fade 2s  block
    a 2  50%
cue 3 cut
    a 1  70%
)");
    play.go(0).go(1000);
    play.at(2000).nearly("a/3/intensity", 0.3L);
    play.nearly("p/1/intensity", 0.5L);
    play.at(3000);
    play.exactly("a/1/intensity", 0);
    play.exactly("a/2/intensity", 0.5L);
    play.exactly("a/3/intensity", 0);
    play.exactly("p/1/red", 1);  // no colour: every emitter at full
    play.exactly("p/1/blue", 1);
    play.exactly("h/intensity", 0);
    play.exactly("h/zoom", 0.3L);
    CHECK(play.slot("h/pan") == 128);
    play.go(3500).exactly("a/1/intensity", 0.7L);  // its wave is gone
    play.at(3750).exactly("a/1/intensity", 0.7L);
}

TEST_CASE("a blocking cue-only cue gives the whole state back", "[reference][language][tracking]") {
    Played play(rig + R"(
cue 1 cut
    a    60%
    p    blue full
cue 2 cut  block cue-only
    a 2  50%
cue 3 cut
)");
    play.go(0).go(100).exactly("a/1/intensity", 0);
    play.go(200);
    play.exactly("a/1/intensity", 0.6L);
    play.exactly("a/2/intensity", 0.6L);
    play.exactly("p/2/blue", 1);
    play.exactly("p/2/red", 0);
    play.exactly("p/2/intensity", 1);
}
