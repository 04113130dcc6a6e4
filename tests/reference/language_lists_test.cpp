// Shows from their text to their slots: several cue lists, submasters, chases, floors and timecode. Source:
// "Lists and submasters in numbers" and "Chases in numbers" of grammar/LANGUAGE.md; that levels combine by
// the highest and the rest by the latest is common practice, no source.
#include <algorithm>
#include <catch2/catch.hpp>

#include "tests/support/played.hpp"

using tallow::test::Played;

namespace {

const std::string rig = R"(
palette red    red full
palette blue   blue full
wave saw  rise  period 1s
    intensity   out .. full
wave shift  rise  period 1s
    blue        out .. full
patch 1/1
    a 1..10  dimmer
    p 1..4   par-rgb dimmed
    house    dimmer
)";

const std::string in_turn = R"(
chase run every 1s loop
    step 1   a 1 full
    step 2   a 2 full
    step 3   a 3 full
)";

long double ramp(long double t, long double from, long double to) {
    return std::clamp((t - from) / (to - from), 0.0L, 1.0L);
}

}  // namespace

TEST_CASE("levels of several lists combine by the highest", "[reference][language][lists]") {
    Played play(rig + R"(
cue 1 fade 1s
    a 1..3   60%
cue 2 fade 2s
    a 1      out
list side
cue 1 fade 4s
    a 1..2   full
cue 2 fade 1s
    a 2      20%
list third
cue 1 cut
    a 3      70%
)");
    play.go(0).go_in("side", 1000);
    for (unsigned ms = 1000; ms < 6000; ms += 250) {
        const long double side = ramp(ms, 1000, 5000), main = ms < 1000 ? ms / 1000.0L * 0.6L : 0.6L;
        play.at(ms);
        play.nearly("a/1/intensity", std::max(main, side));
        play.nearly("a/2/intensity", std::max(main, side));
    }
    play.go_in("third", 6000).exactly("a/3/intensity", 0.7L);
    play.go(7000);  // main's `a 1` goes out beneath the other list's full
    play.at(8000).exactly("a/1/intensity", 1);
    play.go_in("side", 10000).at(10500);
    play.nearly("a/2/intensity", std::max(0.6L, 1 - 0.5L * 0.8L));
    play.at(12000).exactly("a/2/intensity", 0.6L);
    play.exactly("a/1/intensity", 1);  // cue 2 of side does not mention it
}

TEST_CASE("of everything else the list whose GO stated it latest owns it", "[reference][language][lists]") {
    Played play(rig + R"(
cue 1 cut
    p        red full
cue 2 fade 2s
    p 1      red
list side
cue 1 fade 1s
    p 1..2   blue 10%
)");
    play.go(0);
    play.exactly("p/1/red", 1);
    play.go_in("side", 1000);
    for (unsigned ms = 1000; ms <= 2000; ms += 100) {
        play.at(ms);
        play.nearly("p/1/red", 1 - ramp(ms, 1000, 2000));
        play.nearly("p/2/blue", ramp(ms, 1000, 2000));
        play.exactly("p/1/intensity", 1);
        play.exactly("p/3/red", 1);
    }
    play.go(3000);  // states what main had stated before: it is the latest now
    for (unsigned ms = 3000; ms <= 5000; ms += 200) {
        play.at(ms);
        play.nearly("p/1/red", ramp(ms, 3000, 5000));
        play.exactly("p/2/blue", 1);
    }
}

TEST_CASE("what a list lets go of goes back to the list beneath", "[reference][language][lists]") {
    Played play(rig + R"(
cue 1 cut
    p        red 40%
list side
cue 1 cut  cue-only
    p 1      blue full
    a 1      full
cue 2 fade 2s
list third
cue 1 cut
    p 2      blue 80%
cue 2 fade 1s  block
    a 2      50%
)");
    play.go(0).go_in("side", 1000);
    play.exactly("p/1/blue", 1);
    play.exactly("p/1/intensity", 1);
    play.go_in("side", 2000);
    for (unsigned ms = 2000; ms <= 4000; ms += 250) {
        const long double p = ramp(ms, 2000, 4000);
        play.at(ms);
        play.nearly("p/1/blue", 1 - p);
        play.nearly("p/1/red", p);
        play.nearly("p/1/intensity", std::max(0.4L, 1 - p));
        play.nearly("a/1/intensity", 1 - p);
    }
    play.go_in("third", 5000).exactly("p/2/blue", 1);
    play.go_in("third", 6000).at(6500);
    play.nearly("p/2/blue", 0.5L);
    play.nearly("p/2/red", 0.5L);
    play.nearly("p/2/intensity", std::max(0.4L, 0.4L));
    play.nearly("a/2/intensity", 0.25L);
    play.at(8000).exactly("p/2/red", 1);
    play.exactly("p/2/intensity", 0.4L);
    play.exactly("a/2/intensity", 0.5L);
}

TEST_CASE("lists run beside one another, each with its own follow-ons", "[reference][language][lists]") {
    Played play(rig + R"(
cue 1 cut  next-at 300ms
    a 1      full
cue 2 cut
    a 1      out
list side
cue 1 cut  follow 500ms
    a 2      full
cue 2 cut
    a 2      out
)");
    play.go(0).go_in("side", 100);
    play.at(299, 39).exactly("a/1/intensity", 1);
    play.at(300).exactly("a/1/intensity", 0);
    play.exactly("a/2/intensity", 1);
    play.at(600).exactly("a/2/intensity", 0);
}

TEST_CASE("a fixture that another list lights is not in the dark", "[reference][language][lists]") {
    Played play(rig + R"(
cue 1 fade 2s
    p        red
cue 2 fade 2s
    p        blue
list side
cue 1 cut
    p 1      full
)");
    play.go(0).go_in("side", 3000).go(4000).at(5000);
    play.nearly("p/1/blue", 0.5L);  // lit by the other list: its colour fades
    play.exactly("p/2/blue", 1);    // dark in all of them: at once
}

TEST_CASE("a submaster counts among the highest and mixes its colour by its position",
          "[reference][language][lists]") {
    Played play(rig + R"(
submaster 1 "Warm"
    p 1..2   red 80%
    a 1      full
submaster 2
    p 1      blue out
cue 1 cut
    p        blue 30%
    a 1..2   25%
)");
    play.go(0);
    for (int percent = 0; percent <= 100; percent += 10) {
        const long double position = percent / 100.0L;
        play.submaster(1, percent, 100u + static_cast<unsigned>(percent));
        play.nearly("p/1/intensity", std::max(0.3L, 0.8L * position));
        play.nearly("p/1/red", position);
        play.nearly("p/1/blue", 1 - position);
        play.exactly("p/3/blue", 1);
        play.nearly("a/1/intensity", std::max(0.25L, position));
        play.exactly("a/2/intensity", 0.25L);
    }
    play.submaster(2, 50, 300);  // over the first, by the order of numbers
    play.nearly("p/1/red", 0.5L);
    play.nearly("p/1/blue", 0.5L);
    play.nearly("p/1/intensity", 0.8L);
    play.submaster(1, 0, 400);
    play.nearly("p/1/blue", 1);
    play.exactly("p/2/blue", 1);
}

TEST_CASE("a submaster's wave begins as it leaves 0", "[reference][language][lists]") {
    Played play(rig + "submaster 3\n    a 1 full  wave saw\n");
    play.at(250).exactly("a/1/intensity", 0);
    play.submaster(3, 50, 300);
    play.at(550).nearly("a/1/intensity", 0.25L * 0.5L);
    play.submaster(3, 100, 800).nearly("a/1/intensity", 0.5L);
    play.submaster(3, 0, 900).exactly("a/1/intensity", 0);
    play.submaster(3, 100, 1000).at(1250).nearly("a/1/intensity", 0.25L);
}

TEST_CASE("the grand master scales all levels once, and a floor holds against it",
          "[reference][language][lists]") {
    Played play(rig + R"(
patch 2/1
    bar      zoned
type zoned
    mode one intensity 2 x (red green blue)
safety
    keep house above 10%
    keep a 3 above 30%
submaster 1
    a 2      full
cue 1 cut
    a 1..2   80%
    a 3      50%
    bar      red 60%
    house    out
)");
    play.exactly("house/intensity", 0.1L);  // before the first GO
    play.exactly("a/3/intensity", 0.3L);
    play.go(0).exactly("house/intensity", 0.1L);
    play.submaster(1, 100, 100).master(50, 200);
    play.nearly("a/1/intensity", 0.4L);
    play.nearly("a/2/intensity", 0.5L);
    play.exactly("a/3/intensity", 0.3L);
    play.nearly("bar/intensity", 0.3L);
    play.exactly("bar/1/red", 1);
    play.master(0, 300).exactly("a/1/intensity", 0);
    play.exactly("house/intensity", 0.1L);
    play.exactly("a/3/intensity", 0.3L);
    play.master(100, 400).exactly("a/1/intensity", 0.8L);
}

TEST_CASE("the panic look is there at once over everything, and gone at once",
          "[reference][language][lists]") {
    Played play(rig + R"(
look aisles
    house    70%
    p 1      blue  60%
look safe
    look aisles  50%
    a 2      20%
safety
    panic look safe
    keep house above 30%
cue 1 cut
    p 1..2   red  80%
)");
    play.panic(true, 0).exactly("house/intensity", 0.35L);
    play.nearly("p/1/intensity", 0.3L);
    play.panic(false, 100).exactly("house/intensity", 0.3L);
    play.exactly("p/1/intensity", 0);
    play.go(200).exactly("p/1/red", 1);
    play.panic(true, 300).exactly("p/1/intensity", 0.8L);
    play.exactly("p/1/red", 0);
    play.exactly("p/1/blue", 1);
    play.exactly("p/2/red", 1);
    play.master(0, 400).nearly("p/1/intensity", 0.3L);
    play.exactly("p/2/intensity", 0);
    play.nearly("a/2/intensity", 0.2L);
    play.exactly("house/intensity", 0.35L);
    play.panic(false, 500).exactly("a/2/intensity", 0);
    play.exactly("p/1/red", 1);
    play.exactly("house/intensity", 0.3L);
}

TEST_CASE("a chase shows its steps in time, fading from each to the next", "[reference][language][chase]") {
    Played play(rig + R"(
chase runner every 400ms fade 100ms loop
    step 1   a 1      full
    step 2   a 2      60%
    step 2   takes 800ms  fade 200ms
    step 3   a 1..2   20%
cue 1 cut
    chase runner
)");
    // Steps begin at 0, 400 and 1200 ms of a round of 1600 ms.
    const auto expected = [](unsigned ms) {
        const long double a[3] = {1, 0, 0.2L}, b[3] = {0, 0.6L, 0.2L};
        const unsigned in_round = ms % 1600;
        const int step = in_round < 400 ? 0 : in_round < 1200 ? 1 : 2;
        const unsigned since = in_round - (step == 0 ? 0u : step == 1 ? 400u : 1200u);
        const long double way = ms < 400 ? 1 : std::min(1.0L, since / (step == 1 ? 200.0L : 100.0L));
        const int before = (step + 2) % 3;
        return std::pair(a[before] + (a[step] - a[before]) * way, b[before] + (b[step] - b[before]) * way);
    };
    play.go(0);
    for (unsigned ms = 0; ms < 5000; ms += 25) {
        INFO(ms << " ms");
        play.at(ms);
        play.nearly("a/1/intensity", expected(ms).first);
        play.nearly("a/2/intensity", expected(ms).second);
    }
}

TEST_CASE("a chase without a loop holds its last step", "[reference][language][chase]") {
    Played play(rig + R"(
chase once every 100ms
    step 1   a 1      full
    step 2   a 2      full
cue 1 cut
    chase once
)");
    play.go(0).exactly("a/1/intensity", 1);
    play.at(99).exactly("a/1/intensity", 1);
    play.at(100).exactly("a/1/intensity", 0);
    play.exactly("a/2/intensity", 1);
    play.at(100000).exactly("a/2/intensity", 1);
}

TEST_CASE("a chase takes the place of what stands beneath, and gives it back",
          "[reference][language][chase]") {
    Played play(rig + R"(
chase pulse every 200ms loop
    step 1   p 1      blue full
    step 2   p 1      out
cue 1 cut
    p 1..2   red 50%
cue 2 fade 1s
    chase pulse
cue 3 cut
    p 1      30%
cue 4 fade 2s
    chase pulse off
)");
    play.go(0).go(1000);
    const auto step = [](unsigned ms) { return (ms - 1000) / 200 % 2 == 0 ? 1.0L : 0.0L; };
    for (unsigned ms = 1000; ms < 3000; ms += 50) {
        const long double c = ramp(ms, 1000, 2000);
        INFO(ms << " ms");
        play.at(ms);
        play.nearly("p/1/intensity", (1 - c) * 0.5L + c * step(ms));
        play.nearly("p/1/red", 1 - c);
        play.nearly("p/1/blue", c);  // step 2 names no colour: it stays
        play.exactly("p/2/red", 1);
    }
    play.go(3000).at(3100);
    play.exactly("p/1/intensity", step(3100));  // the new level stands beneath
    play.go(4000);
    for (unsigned ms = 4000; ms <= 6000; ms += 50) {
        const long double c = ramp(ms, 4000, 6000);
        INFO(ms << " ms");
        play.at(ms);
        play.nearly("p/1/intensity", (1 - c) * step(ms) + c * 0.3L);
        play.nearly("p/1/blue", 1 - c);
    }
}

TEST_CASE("a chase that is named again goes on, and one that had ended begins anew",
          "[reference][language][chase]") {
    Played play(rig + R"(
chase pulse every 400ms loop
    step 1   a 1      full
    step 2   a 1      20%
cue 1 cut
    chase pulse
cue 2 cut
    chase pulse
cue 3 cut
    chase pulse off
cue 4 cut
    chase pulse
)");
    play.go(0).go(600).exactly("a/1/intensity", 0.2L);
    play.at(800).exactly("a/1/intensity", 1);
    play.go(900).exactly("a/1/intensity", 0);
    play.go(1500).exactly("a/1/intensity", 1);
    play.at(1899).exactly("a/1/intensity", 1);
    play.at(1900).exactly("a/1/intensity", 0.2L);
}

TEST_CASE("what a `block` cue names again goes on", "[reference][language][chase]") {
    Played play(rig + in_turn + R"(
cue 1 cut
    a 4..5   full
    a 4      wave saw
    chase run
cue 2 fade 4s block
    a 4      full
    a 4      wave saw
    chase run
)");
    play.go(0).go(1500);
    for (unsigned ms = 1500; ms < 9000; ms += 250) {
        play.at(ms);
        for (int i = 1; i <= 3; ++i)
            play.exactly("a/" + std::to_string(i) + "/intensity", ms / 1000 % 3 + 1 == unsigned(i) ? 1 : 0);
        play.nearly("a/4/intensity", ms % 1000 / 1000.0L);
        play.nearly("a/5/intensity", 1 - ramp(ms, 1500, 5500));
    }
}

TEST_CASE("a chase that a `block` cue itself ends begins anew", "[reference][language][chase]") {
    Played play(rig + in_turn + R"(
cue 1 cut
    chase run
cue 2 cut block
    chase run off
    chase run
)");
    play.go(0).go(1500).at(1600).exactly("a/1/intensity", 1);
    play.exactly("a/2/intensity", 0);
}

TEST_CASE("one emitter under a chase leaves the others at 0", "[reference][language][chase]") {
    Played play(rig + R"(
chase run every 1s loop
    step 1   p 1 blue full
cue 1 cut
    chase run
cue 2 cut
    p 1      full  emitter red 50%
cue 3 cut
    chase run off
)");
    play.go(0).go(1000).exactly("p/1/blue", 1);
    play.go(2000).exactly("p/1/red", 0.5L);
    play.exactly("p/1/green", 0);
    play.exactly("p/1/blue", 0);
}

TEST_CASE("the part of a look takes the part of a chase", "[reference][language][chase]") {
    Played play(rig + R"(
chase pulse every 400ms loop
    step 1   a 1..2   full
    step 2   a 1..2   20%
look beats
    chase pulse
cue 1 cut
    a 1      look beats
    a 2      70%
cue 2 cut
    look beats
)");
    play.go(0).exactly("a/1/intensity", 1);
    play.exactly("a/2/intensity", 0.7L);
    play.at(400).exactly("a/1/intensity", 0.2L);
    play.exactly("a/2/intensity", 0.7L);
    play.go(500).exactly("a/2/intensity", 0.2L);  // it runs already, and goes on
}

TEST_CASE("timecode starts cues at their frames", "[reference][language][lists]") {
    // Drop-frame: 00:01:00;02 is frame 1800, which begins 1800 · 1001/30000 s = 60.06 s in.
    Played play(R"(

patch 1/1
    a 1..4   dimmer
cue 1 cut
    a 1      full
cue 2 cut  timecode 00:01:00;02
    a 2      full
cue 3 cut
    a 3      full
cue 4 cut  timecode 00:01:01;02
    a 2      50%
list side
cue 1 cut  timecode 00:01:00;02
    a 4      full
)",
                "    timecode 30 frames drop\n");
    play.timecode("00:00:59;00", 1000);  // frame 1770 at 59.059 s: cue 2 is due 1001 ms later
    play.go(1500).exactly("a/1/intensity", 1);
    play.at(2000, 39).exactly("a/2/intensity", 0);
    play.at(2001).exactly("a/2/intensity", 1);
    play.exactly("a/4/intensity", 1);
    play.at(3001).exactly("a/2/intensity", 1);
    play.at(3003).exactly("a/2/intensity", 0.5L);  // cue 4, over cue 3: the picture that cue 3 leaves
    play.exactly("a/3/intensity", 1);
}
