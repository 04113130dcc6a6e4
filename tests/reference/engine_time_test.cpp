// The rules of time in LANGUAGE.md, value by value, against its formulas in real numbers; edges in whole
// ticks, exactly.
#include <catch2/catch.hpp>
#include <cmath>

#include "runtime/limits.hpp"
#include "tests/support/simple_roll.hpp"

using namespace tallow;
using namespace tallow::runtime;
using namespace tallow::test;

namespace {

constexpr Tick ms = 40, second = 1000 * ms;  // at 40 frames per second

long double curve_at(Curve curve, bool rising, long double p) {
    if (curve == Curve::ease) return p * p * (3 - 2 * p);
    if (curve == Curve::visual) return rising ? p * p : 1 - (1 - p) * (1 - p);
    return p;
}

}  // namespace

TEST_CASE("before the first GO intensities are out and the rest is at home", "[reference][engine]") {
    Roll roll = rig({Kind::intensity, Kind::position});
    roll.parameters.home[1] = 32768;
    add_cue(roll, {}, {{0, full}});
    Playing play(roll);
    CHECK(play.at(5 * second, 0) == 0);
    CHECK(play.at(5 * second, 1) == 32768);
    CHECK_FALSE(play.engine.current().has_value());
    CHECK(play.engine.next() == 0u);
}

TEST_CASE("fades follow their curve from delay to end, up and down", "[reference][engine]") {
    const Curve curve = GENERATE(Curve::linear, Curve::ease, Curve::visual);
    const bool rising = GENERATE(true, false);
    const std::uint64_t delay = GENERATE(0u, 333u), time = GENERATE(1u, 3000u, 604800000u);
    CAPTURE(static_cast<int>(curve), rising, delay, time);
    const Level a = rising ? 4321 : 60000, b = rising ? 60000 : 4321;
    Roll roll = rig({Kind::intensity});
    add_cue(roll, {}, {{0, a}});
    // The other direction's time would be seen.
    add_cue(roll, {delay, rising ? time : 77, rising ? 77 : time, curve}, {{0, b}});
    Playing play(roll);
    play.engine.go(0);
    const Tick g = 12345, start = g + delay * ms, end = start + time * ms;
    REQUIRE(play.at(g) == a);
    play.engine.go(g);
    CHECK(play.at(g) == a);
    CHECK(play.at(start) == a);
    for (int step = 1; step < 50; ++step) {
        const Tick t = start + time * ms * static_cast<Tick>(step) / 50;
        const long double p = static_cast<long double>(t - start) / static_cast<long double>(time * ms);
        const long double v = a + (b - a) * curve_at(curve, rising, p);
        REQUIRE(std::fabs(play.at(t) - v) <= 2);
    }
    if (time == 1) CHECK(play.at(end - 1) != b);  // a fortieth of the way is still to go
    CHECK(play.at(end) == b);
    CHECK(play.at(end + 1) == b);
}

TEST_CASE("only intensities take the down time", "[reference][engine]") {
    Roll roll = rig({Kind::intensity, Kind::colour, Kind::position, Kind::beam});
    add_cue(roll, {}, {{0, full}, {1, full}, {2, full}, {3, full}});
    add_cue(roll, {0, 2000, 1000, Curve::linear}, {{0, 0}, {1, 0}, {2, 0}, {3, 0}});
    Playing play(roll);
    play.engine.go(0);
    play.engine.go(second);
    CHECK(play.at(2 * second, 0) == 0);
    for (std::uint32_t p = 1; p < 4; ++p) CHECK(play.at(2 * second, p) == 32768);
}

TEST_CASE("no time at all: a jump at the first tick from the delay on", "[reference][engine]") {
    Roll roll = rig({Kind::intensity});
    add_cue(roll, {}, {{0, 1000}});
    add_cue(roll, {250, 0, 0, Curve::ease}, {{0, full}});
    Playing play(roll);
    play.engine.go(0);
    CHECK(play.at(0) == 1000);  // a cut is at its end at t = 0
    play.engine.go(100);
    CHECK(play.at(100 + 250 * ms - 1) == 1000);
    CHECK(play.at(100 + 250 * ms) == full);
}

TEST_CASE("a GO in mid-fade holds the present value as the old side", "[reference][engine]") {
    Roll roll = rig({Kind::intensity, Kind::intensity});
    add_cue(roll, {0, 4000, 4000, Curve::linear}, {{0, full}, {1, full}});
    add_cue(roll, {0, 2000, 1000, Curve::linear}, {{0, 0}});
    Playing play(roll);
    play.engine.go(0);
    const int present = play.at(second);
    CHECK(present == 16384);
    play.engine.go(second);
    CHECK(play.at(second) == present);
    CHECK(play.at(second + second / 2) == present / 2);
    CHECK(play.at(2 * second) == 0);
    CHECK(play.at(2 * second, 1) == 32768);  // not mentioned: stays in the fade that it is in
    CHECK(play.at(4 * second, 1) == full);
}

TEST_CASE("a stated value still on its way takes the new cue's time, one that is reached does not move",
          "[reference][engine]") {
    Roll roll = rig({Kind::intensity, Kind::intensity});
    add_cue(roll, {0, 4000, 4000, Curve::linear}, {{0, full}, {1, 5000}});
    add_cue(roll, {0, 8000, 8000, Curve::linear}, {{0, full}});
    add_cue(roll, {1000, 8000, 8000, Curve::linear}, {{1, 5000}});
    Playing play(roll);
    play.engine.go(0);
    const int half = play.at(2 * second);
    play.engine.go(2 * second);
    CHECK(std::abs(play.at(6 * second) - (half + full) / 2) <= 1);
    CHECK(play.at(10 * second) == full);
    play.engine.advance(11 * second);
    play.engine.go(11 * second);
    CHECK(play.at(13 * second, 1) == 5000);
    CHECK_FALSE(play.engine.changed(0));
    CHECK(play.engine.complete_at() == 20 * second);  // complete at its time, though nothing moved
}

TEST_CASE("what changes in the dark moves at once", "[reference][engine]") {
    const auto colour_after_go = [](Level before, Level then, Tick wait) {
        Roll roll = rig({Kind::intensity, Kind::colour, Kind::position});
        roll.parameters.under = {none, 0, 0};
        add_cue(roll, {0, 1000, 1000, Curve::linear}, {{0, before}});
        add_cue(roll, {0, 4000, 4000, Curve::linear}, {{0, then}});
        add_cue(roll, {500, 2000, 2000, Curve::linear}, {{0, full}, {1, 40000}, {2, 40000}});
        Playing play(roll);
        play.engine.go(0);
        play.engine.go(second);
        play.engine.go(second + wait);
        play.engine.advance(second + wait);
        CHECK(value(play.engine, 1) == value(play.engine, 2));
        return value(play.engine, 1);
    };
    CHECK(colour_after_go(0, 0, second) == 40000);         // out, and staying out but for this cue
    CHECK(colour_after_go(0, full, 0) == 0);               // at 0, on its way up
    CHECK(colour_after_go(full, 0, second) == 0);          // on its way out
    CHECK(colour_after_go(full, 0, 4 * second) == 40000);  // out at this very tick
    CHECK(colour_after_go(full, 1, 9 * second) == 0);      // as dim as can be is not dark
}

TEST_CASE("a cell is dark under a dark master", "[reference][engine]") {
    Roll roll = rig({Kind::intensity, Kind::intensity, Kind::colour});
    roll.parameters.under = {none, 0, 1};
    roll.parameters.home = {0, full, 0};
    add_cue(roll, {0, 2000, 2000, Curve::linear}, {{2, 40000}});
    Playing play(roll);
    play.engine.go(0);
    CHECK(play.at(0, 2) == 40000);
}

TEST_CASE("a virtual intensity multiplies what stands under it, rounded once", "[reference][engine]") {
    Roll roll = rig({Kind::intensity, Kind::colour, Kind::colour});
    roll.parameters.universe[0] = none;
    roll.parameters.coarse = {0, 1, 2};
    roll.parameters.fine = {0, 0, 3};
    roll.parameters.under = {none, 0, 0};
    add_cue(roll, {}, {{0, 30000}, {1, 50000}, {2, 50000}});
    add_cue(roll, {0, 1000, 1000, Curve::linear}, {{0, full}});
    Playing play(roll);
    const auto check = [&](Tick t, long double intensity) {
        play.engine.advance(t);
        const long double v = intensity / 65535 * 50000 / 65535;
        const auto slots = play.engine.slots(0);
        CHECK(slots[0] == static_cast<int>(std::floor(255 * v + 0.5L)));
        CHECK(std::fabs(slots[1] * 256 + slots[2] - 65535 * v) <= 2);
    };
    play.engine.go(0);
    check(0, 30000);
    play.engine.go(second);
    check(second + second / 4, 30000 + 35535 / 4.0L);
    check(2 * second, 65535);
}

TEST_CASE("eight bits and sixteen: 50% is 128, and the coarse byte stands where it is put",
          "[reference][engine]") {
    Roll roll = rig({Kind::intensity, Kind::position});
    roll.parameters.coarse = {1, 9};
    roll.parameters.fine = {0, 4};
    add_cue(roll, {}, {{0, 32768}, {1, 0xabcd}});
    Playing play(roll);
    play.engine.go(0);
    play.engine.advance(0);
    CHECK(play.engine.slots(0)[0] == 128);
    CHECK(play.engine.slots(0)[8] == 0xab);
    CHECK(play.engine.slots(0)[3] == 0xcd);
    CHECK(play.engine.slots(0).size() == 512);
}

TEST_CASE("values track through ten cues until one says otherwise", "[reference][engine]") {
    Roll roll = rig({Kind::intensity, Kind::intensity, Kind::intensity});
    for (std::uint32_t cue = 0; cue < 10; ++cue)
        add_cue(roll, {}, {{cue % 3, static_cast<Level>(100 * (cue + 1))}});
    Playing play(roll);
    int due[3] = {0, 0, 0};
    for (std::uint32_t cue = 0; cue < 10; ++cue) {
        REQUIRE(play.engine.go(cue * second));
        due[cue % 3] = static_cast<int>(100 * (cue + 1));
        for (std::uint32_t p = 0; p < 3; ++p) CHECK(play.at(cue * second, p) == due[p]);
    }
    CHECK_FALSE(play.engine.go(10 * second));
    CHECK_FALSE(play.engine.next().has_value());
}

TEST_CASE("follow and next-at start at their exact times, not at frames", "[reference][engine]") {
    const auto [next, due] =
        GENERATE(table<Next, Tick>({{Next::follow, (1500 + 7) * ms}, {Next::next_at, 7 * ms}}));
    Roll roll = rig({Kind::intensity, Kind::intensity});
    Cue& first = add_cue(roll, {500, 1000, 200, Curve::linear}, {{0, full}});
    first.next = next;
    first.next_ms = 7;
    add_cue(roll, {0, 1000, 1000, Curve::linear}, {{1, full}});
    Playing play(roll);
    const Tick g = 333;
    play.engine.go(g);
    CHECK(play.engine.next_start() == g + due);
    CHECK(play.engine.complete_at() == g + 1500 * ms);
    const Tick frame = (g + due + 999) / 1000 * 1000;  // the first frame after
    play.engine.advance(frame - 1000);
    CHECK(play.engine.current() == 0u);
    const long double p = static_cast<long double>(frame - g - due) / second;
    CHECK(std::fabs(play.at(frame, 1) - 65535 * p) <= 1);
    CHECK(play.engine.current() == 1u);
    CHECK_FALSE(play.engine.next_start().has_value());
}

TEST_CASE("a GO while a follow is pending starts the next cue at once and cancels it",
          "[reference][engine]") {
    Roll roll = rig({Kind::intensity});
    Cue& first = add_cue(roll, {}, {{0, 100}});
    first.next = Next::follow;
    first.next_ms = 1000;
    add_cue(roll, {}, {{0, 200}});
    add_cue(roll, {}, {{0, 300}});
    Playing play(roll);
    play.engine.go(0);
    // At the very tick at which it is due, too: one cue starts, not two.
    const Tick when = GENERATE(second / 2, second);
    play.engine.go(when);
    CHECK(play.at(when) == 200);
    CHECK(play.at(5 * second) == 200);
    CHECK(play.engine.current() == 1u);
}

TEST_CASE("a GO after a cue was due comes after that cue", "[reference][engine]") {
    Roll roll = rig({Kind::intensity});
    Cue& first = add_cue(roll, {}, {{0, 100}});
    first.next = Next::next_at;
    first.next_ms = 10;
    add_cue(roll, {}, {{0, 200}});
    add_cue(roll, {}, {{0, 300}});
    Playing play(roll);
    play.engine.go(0);
    play.engine.go(10 * ms + 1);
    CHECK(play.at(10 * ms + 1) == 300);
}

TEST_CASE("hold cancels what was to start by itself; fades go on", "[reference][engine]") {
    Roll roll = rig({Kind::intensity});
    Cue& first = add_cue(roll, {0, 1000, 1000, Curve::linear}, {{0, full}});
    first.next = Next::follow;
    add_cue(roll, {}, {{0, 0}});
    Playing play(roll);
    play.engine.go(0);
    play.engine.hold(0);
    CHECK(play.at(second / 2) == 32768);
    CHECK(play.at(9 * second) == full);
    CHECK(play.engine.next() == 1u);
}

TEST_CASE("at most so many cues start at one instant", "[reference][engine]") {
    Roll roll = rig({Kind::intensity});
    for (std::uint32_t i = 0; i < 130; ++i)
        add_cue(roll, {}, {{0, static_cast<Level>(i + 1)}}).next = Next::follow;
    for (std::uint32_t i = 63; i < 130; i += 64)
        roll.pictures.push_back({i, {static_cast<Level>(i + 1)}, {none}, {{0, 1}}});
    Playing play(roll);
    play.engine.go(second);
    play.engine.advance(second);
    CHECK(play.engine.overrun());
    CHECK(play.engine.current() == limits::cues_at_once);  // after the one that GO started
    play.engine.advance(second + 1000);
    CHECK(play.engine.overrun());
    CHECK(play.at(second + 2000) == 130);
    CHECK_FALSE(play.engine.overrun());
}

TEST_CASE("back plays the cue before as a whole picture in its own times", "[reference][engine]") {
    Roll roll = rig({Kind::intensity, Kind::intensity});
    add_cue(roll, {}, {{0, 100}, {1, 7000}});
    add_cue(roll, {0, 1000, 1000, Curve::linear}, {{0, 20000}}).next = Next::follow;
    add_cue(roll, {}, {{0, 60000}, {1, 0}});
    add_cue(roll, {}, {{0, 5}});
    Playing play(roll);
    CHECK_FALSE(play.engine.back(0));
    play.engine.go(0);
    CHECK_FALSE(play.engine.back(0));
    play.engine.go(second);
    CHECK(play.at(9 * second) == 60000);  // the third followed
    CHECK(play.at(9 * second, 1) == 0);
    REQUIRE(play.engine.back(10 * second));
    CHECK(play.engine.current() == 1u);
    CHECK_FALSE(play.engine.next_start().has_value());
    CHECK(play.at(10 * second + second / 2) == 40000);
    CHECK(play.at(10 * second + second / 2, 1) == 3500);
    CHECK(play.at(30 * second) == 20000);
    CHECK(play.at(30 * second, 1) == 7000);
    play.engine.go(40 * second);
    CHECK(play.engine.current() == 2u);
    CHECK(play.at(40 * second) == 60000);
}

TEST_CASE("a universe counts as changed when a slot differs from the advance before", "[reference][engine]") {
    Roll roll = rig({Kind::intensity});
    roll.universes.push_back({2, 8});
    add_cue(roll, {0, 1000, 1000, Curve::linear}, {{0, full}});
    add_cue(roll, {1000, 0, 0, Curve::linear}, {{0, 0}});
    Playing play(roll);
    const auto changed = [&](Tick t) {
        play.engine.advance(t);
        return std::pair(play.engine.changed(0), play.engine.changed(1));
    };
    CHECK(changed(0) == std::pair(true, true));  // the first there is
    CHECK(changed(1000) == std::pair(false, false));
    play.engine.go(1000);
    CHECK(changed(1000) == std::pair(false, false));
    CHECK(changed(2000) == std::pair(true, false));
    CHECK(changed(1000 + second) == std::pair(true, false));
    CHECK(changed(2000 + second) == std::pair(false, false));
    play.engine.go(2000 + second);
    CHECK(changed(3000 + second) == std::pair(false, false));  // still waiting
    CHECK(changed(2000 + 2 * second) == std::pair(true, false));
}
