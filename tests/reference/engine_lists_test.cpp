// Several cue lists at once, by the rules of LANGUAGE.md; values computed by hand.
#include <catch2/catch.hpp>

#include "tests/support/simple_roll.hpp"

using namespace tallow;
using namespace tallow::runtime;
using namespace tallow::test;

namespace {

constexpr Tick ms = 40, second = 1000 * ms;  // at 40 frames per second
constexpr Timing at_once{}, two_seconds{0, 2000, 2000, Curve::linear};

void add_release(Cue& cue, std::uint32_t parameter) {
    cue.sets[0].releases.push_back({parameter, 1});
}

}  // namespace

TEST_CASE("of an intensity that two lists state the highest counts", "[reference][lists]") {
    Roll roll = rig({Kind::intensity});
    add_cue(roll, two_seconds, {{0, 40000}});
    add_list(roll, "side");
    add_cue(roll, two_seconds, {{0, 30000}});
    add_cue(roll, two_seconds, {{0, 60000}});
    Playing play(roll);
    play.engine.go(1, 0);
    CHECK(play.at(2 * second) == 30000);
    play.engine.go(0, 2 * second);        // from 0 beside the other
    CHECK(play.at(3 * second) == 30000);  // it stands at 20000
    CHECK(play.at(3 * second + second * 3 / 4) == 35000);
    CHECK(play.at(4 * second) == 40000);
    play.engine.go(1, 4 * second);  // from 30000 to 60000
    CHECK(play.at(4 * second + second / 2) == 40000);
    CHECK(play.at(5 * second) == 45000);
    CHECK(play.engine.current(0) == 0u);
    CHECK(play.engine.current(1) == 2u);
    CHECK_FALSE(play.engine.go(0, 9 * second));
    CHECK_FALSE(play.engine.go(1, 9 * second));
}

TEST_CASE("of everything else the latest GO owns it", "[reference][lists]") {
    Roll roll = rig({Kind::colour});
    add_cue(roll, at_once, {{0, 10000}});
    add_list(roll, "side");
    add_cue(roll, at_once, {{0, 50000}});
    add_cue(roll, two_seconds, {{0, 20000}});
    Playing play(roll);
    play.engine.go(1, 0);
    CHECK(play.at(0) == 50000);
    play.engine.go(0, second);
    CHECK(play.at(second) == 10000);
    play.engine.go(1, 2 * second);
    CHECK(play.at(3 * second) == 15000);
}

TEST_CASE("a list that lets go of an intensity leaves it to the others, and at last to home",
          "[reference][lists]") {
    Roll roll = rig({Kind::intensity});
    roll.parameters.home[0] = 10000;
    add_cue(roll, at_once, {{0, 40000}});
    add_release(add_cue(roll, two_seconds, {}), 0);
    add_list(roll, "side");
    add_cue(roll, at_once, {{0, 30000}});
    add_release(add_cue(roll, two_seconds, {}), 0);
    Playing play(roll);
    CHECK(play.at(0) == 10000);
    play.engine.go(0, 0);
    play.engine.go(1, 0);
    CHECK(play.at(0) == 40000);
    play.engine.go(0, second);  // goes out: another stands for it
    CHECK(play.at(second + second / 4) == 35000);
    CHECK(play.at(2 * second) == 30000);
    play.engine.go(1, 4 * second);  // goes home: no other does
    CHECK(play.at(5 * second) == 20000);
    CHECK(play.at(6 * second) == 10000);
}

TEST_CASE("who comes in while another goes home takes over without a jump", "[reference][lists]") {
    Roll roll = rig({Kind::intensity});
    roll.parameters.home[0] = full;
    add_cue(roll, at_once, {{0, 20000}});
    add_release(add_cue(roll, two_seconds, {}), 0);
    add_list(roll, "side");
    add_cue(roll, two_seconds, {{0, 20000}});
    Playing play(roll);
    play.engine.go(0, 0);
    play.engine.go(0, 0);
    const int on_its_way = play.at(second);
    CHECK(on_its_way == 42768);  // half-way from 20000 to full
    play.engine.go(1, second);
    CHECK(play.at(second) == on_its_way);
    CHECK(play.at(2 * second) == 21384);  // one goes out from 42768, the other comes to 20000 from 0
    CHECK(play.at(3 * second) == 20000);
    CHECK(play.at(9 * second) == 20000);
}

TEST_CASE("what a list lets go of goes to the latest of the others, if it was its own",
          "[reference][lists]") {
    Roll roll = rig({Kind::position});
    roll.parameters.home[0] = 32768;
    add_cue(roll, at_once, {{0, 10000}});
    add_release(add_cue(roll, two_seconds, {}), 0);
    add_list(roll, "side");
    add_cue(roll, at_once, {{0, 20000}});
    add_release(add_cue(roll, two_seconds, {}), 0);
    add_list(roll, "third");
    add_cue(roll, at_once, {{0, 50000}});
    add_release(add_cue(roll, two_seconds, {}), 0);
    Playing play(roll);
    for (const std::uint32_t list : {0u, 1u, 2u}) play.engine.go(list, 0);
    CHECK(play.at(0) == 50000);
    SECTION("the owner lets go: to the second, then to the first, then home") {
        play.engine.go(2, 0);
        CHECK(play.at(second) == 35000);
        CHECK(play.at(2 * second) == 20000);
        play.engine.go(1, 2 * second);
        CHECK(play.at(3 * second) == 15000);
        CHECK(play.at(4 * second) == 10000);
        play.engine.go(0, 4 * second);
        CHECK(play.at(5 * second) == 21384);
        CHECK(play.at(6 * second) == 32768);
    }
    SECTION("another lets go: nothing moves, and it is no heir any more") {
        play.engine.go(1, 0);
        CHECK(play.at(second) == 50000);
        play.engine.go(2, 2 * second);
        CHECK(play.at(4 * second) == 10000);
    }
}

TEST_CASE("back plays the picture of its own list, and lets go of what that did not have",
          "[reference][lists]") {
    Roll roll = rig({Kind::intensity, Kind::colour});
    add_cue(roll, two_seconds, {{0, 30000}});
    add_cue(roll, at_once, {{0, 50000}, {1, 40000}});
    add_list(roll, "side");
    add_cue(roll, at_once, {{1, 20000}});
    Playing play(roll);
    play.engine.go(1, 0);
    CHECK(play.at(0, 1) == 20000);
    play.engine.go(0, 0);
    play.engine.go(0, 0);
    CHECK(play.at(0) == 50000);
    CHECK(play.at(0, 1) == 40000);
    REQUIRE(play.engine.back(0, second));
    CHECK(play.at(2 * second) == 40000);
    CHECK(play.at(2 * second, 1) == 30000);
    CHECK(play.at(3 * second, 1) == 20000);
    CHECK(play.engine.current(0) == 0u);
    CHECK(play.engine.current(1) == 2u);
    CHECK_FALSE(play.engine.back(1, 4 * second));
}

TEST_CASE("a light is dark when no list lights it", "[reference][lists]") {
    const auto colour_after_go = [](Level side) {
        Roll roll = rig({Kind::intensity, Kind::colour});
        roll.parameters.under[1] = 0;
        add_cue(roll, at_once, {{0, 0}});
        add_cue(roll, two_seconds, {{1, 40000}});
        add_list(roll, "side");
        add_cue(roll, at_once, {{0, side}});
        Playing play(roll);
        play.engine.go(0, 0);
        play.engine.go(1, 0);
        play.engine.go(0, second);
        return play.at(second, 1);
    };
    CHECK(colour_after_go(0) == 40000);
    CHECK(colour_after_go(1) == 0);
}

TEST_CASE("lists follow each by its own clock, and at one instant in their order", "[reference][lists]") {
    Roll roll = rig({Kind::colour});
    add_cue(roll, {0, 1000, 1000, Curve::linear}, {}).next = Next::follow;
    add_cue(roll, at_once, {{0, 10000}});
    add_list(roll, "side");
    Cue& first = add_cue(roll, at_once, {});
    first.next = Next::next_at;
    first.next_ms = 1000;
    add_cue(roll, at_once, {{0, 20000}});
    Playing play(roll);
    play.engine.go(1, 0);
    play.engine.go(0, 0);
    CHECK(play.engine.next_start(0) == second);
    CHECK(play.engine.next_start(1) == second);
    CHECK(play.at(second - 1) == 0);
    CHECK_FALSE(play.engine.at_rest(second - 1));
    CHECK(play.at(second) == 20000);  // the second list comes last, so it owns it
    const auto begun = play.engine.begun();
    CHECK(std::vector<std::uint32_t>(begun.begin(), begun.end()) == std::vector<std::uint32_t>{1, 3});
    CHECK(play.engine.at_rest(second));
    play.engine.advance(2 * second);
    CHECK(play.engine.begun().empty());
}

TEST_CASE("hold holds one list", "[reference][lists]") {
    Roll roll = rig({Kind::colour, Kind::colour});
    for (const std::uint32_t list : {0u, 1u}) {
        if (list == 1) add_list(roll, "side");
        Cue& first = add_cue(roll, at_once, {});
        first.next = Next::next_at;
        first.next_ms = 1000;
        add_cue(roll, at_once, {{list, 10000}});
    }
    Playing play(roll);
    play.engine.go(0, 0);
    play.engine.go(1, 0);
    play.engine.hold(1, 0);
    CHECK(play.at(2 * second, 0) == 10000);
    CHECK(play.at(2 * second, 1) == 0);
}
