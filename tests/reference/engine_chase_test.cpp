// Chases by the rules of LANGUAGE.md; values computed by hand.
#include <catch2/catch.hpp>

#include "tests/support/simple_roll.hpp"

using namespace tallow;
using namespace tallow::runtime;
using namespace tallow::test;

namespace {

constexpr Tick ms = 40, second = 1000 * ms;  // at 40 frames per second
constexpr Timing at_once{}, two_seconds{0, 2000, 2000, Curve::linear};

}  // namespace

TEST_CASE("a chase goes from step to step, and its first step is there at once", "[reference][chase]") {
    const bool loop = GENERATE(true, false);
    Roll roll = rig({Kind::intensity});
    const std::uint32_t chase = add_chase(roll, loop, {400, 100}, {{10000}, {30000}, {60000}});
    add_cue(roll, at_once, {{0, 5000, chase}}).starts = {chase};
    Playing play(roll);
    play.engine.go(777);
    const auto at = [&](Tick after) { return play.at(777 + after * ms); };
    CHECK(at(0) == 10000);
    CHECK(at(399) == 10000);
    CHECK(at(400) == 10000);
    CHECK(at(450) == 20000);  // half a fade of 100 ms
    CHECK(at(500) == 30000);
    CHECK(at(825) == 37500);
    CHECK(at(1199) == 60000);
    CHECK(at(1225) == (loop ? 47500 : 60000));  // a quarter from the last to the first
    CHECK(at(1300) == (loop ? 10000 : 60000));
    CHECK(at(1200 * 1000 + 450) == (loop ? 20000 : 60000));
}

TEST_CASE("a step that jumps does not fade", "[reference][chase]") {
    Roll roll = rig({Kind::beam, Kind::beam});
    const std::uint32_t chase = add_chase(roll, true, {400, 400}, {{0, 0}, {40000, 40000}});
    roll.chases[0].jumps = {0, 1};
    add_cue(roll, at_once, {{0, 0, chase}, {1, 0, chase}}).starts = {chase};
    Playing play(roll);
    play.engine.go(0);
    CHECK(play.at(600 * ms, 0) == 20000);
    CHECK(play.at(600 * ms, 1) == 40000);
    CHECK(play.at(799 * ms, 1) == 40000);
    CHECK(play.at(800 * ms, 1) == 0);
}

TEST_CASE("a chase takes the place of levels and fades in and out in the cue's time", "[reference][chase]") {
    Roll roll = rig({Kind::intensity, Kind::position});
    const std::uint32_t chase = add_chase(roll, true, {500, 0}, {{0, 20000}, {40000, 60000}});
    add_cue(roll, at_once, {{0, 10000}, {1, 50000}});
    add_cue(roll, two_seconds, {{0, 10000, chase}, {1, 50000, chase}}).starts = {chase};
    add_cue(roll, two_seconds, {{0, 10000}, {1, 50000}});
    Playing play(roll);
    play.engine.go(0);
    play.engine.go(0);
    CHECK(play.at(second) == 5000);                // half 10000, half 0
    CHECK(play.at(second + second / 2) == 32500);  // a quarter of 10000, three of 40000
    CHECK(play.at(3 * second) == 0);
    CHECK(play.at(3 * second, 1) == 20000);
    CHECK(play.at(3 * second + second / 2) == 40000);
    CHECK(play.at(3 * second + second / 2, 1) == 60000);
    play.engine.go(4 * second);  // at its first step
    CHECK(play.at(5 * second) == 5000);
    CHECK(play.at(6 * second) == 10000);
    CHECK(play.at(6 * second, 1) == 50000);
}

TEST_CASE("a chase starts again when it is started again, and else runs on", "[reference][chase]") {
    Roll roll = rig({Kind::intensity, Kind::intensity});
    const std::uint32_t chase = add_chase(roll, true, {500, 0}, {{10000}, {20000}});
    add_cue(roll, at_once, {{0, 0, chase}}).starts = {chase};
    add_cue(roll, at_once, {{1, 1000}});
    add_cue(roll, at_once, {{0, 0, chase}}).starts = {chase};
    Playing play(roll);
    play.engine.go(0);
    play.engine.go(600 * ms);
    CHECK(play.at(600 * ms) == 20000);
    play.engine.go(700 * ms);
    CHECK(play.at(700 * ms) == 10000);
    CHECK(play.at(1200 * ms) == 20000);
}

TEST_CASE("rising and falling are judged by the middle of a chase", "[reference][chase]") {
    const auto after_a_second = [](Level level) {
        Roll roll = rig({Kind::intensity});
        const std::uint32_t chase = add_chase(roll, true, {60000, 0}, {{10000}, {12000}, {30000}});
        add_cue(roll, at_once, {{0, 0, chase}}).starts = {chase};
        add_cue(roll, {0, 2000, 4000, Curve::linear}, {{0, level}});
        Playing play(roll);
        play.engine.go(0);
        play.engine.go(0);
        return play.at(second);
    };
    CHECK(after_a_second(20100) == 15050);  // rising: half of the way from 10000
    CHECK(after_a_second(19000) == 12250);  // falling: a quarter
}

TEST_CASE("what a chase lights is not dark, and what it holds at 0 is", "[reference][chase]") {
    const auto colour_after_go = [](Level level, Level step) {
        Roll roll = rig({Kind::intensity, Kind::colour});
        roll.parameters.under[1] = 0;
        const std::uint32_t chase = add_chase(roll, true, {500, 0}, {{0}, {step}});
        add_cue(roll, at_once, {{0, level, chase}}).starts = {chase};
        add_cue(roll, two_seconds, {{1, 40000}});
        Playing play(roll);
        play.engine.go(0);
        play.engine.go(100);
        return play.at(100, 1);
    };
    CHECK(colour_after_go(0, 1) == 0);
    CHECK(colour_after_go(full, 0) == 40000);
}
