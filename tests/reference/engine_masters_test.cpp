// Submasters, the grand master, floors and the panic look by the rules of LANGUAGE.md; values computed by
// hand.
#include <catch2/catch.hpp>

#include "tests/support/simple_roll.hpp"

using namespace tallow;
using namespace tallow::runtime;
using namespace tallow::test;

namespace {

constexpr Tick ms = 40, second = 1000 * ms;  // at 40 frames per second
constexpr Timing at_once{}, two_seconds{0, 2000, 2000, Curve::linear};
constexpr Level half = 32768, fifth = 13107;  // 13107 is exactly a fifth of full

// A submaster that brings in neighbours from parameter 0 on.
void add_submaster(Roll& roll, std::vector<Level> levels) {
    Submaster submaster;
    submaster.number = static_cast<std::uint32_t>(roll.submasters.size() + 1);
    submaster.runs = {{0, std::move(levels), {}}};
    roll.submasters.push_back(std::move(submaster));
}

}  // namespace

TEST_CASE("a submaster's levels join by the highest", "[reference][masters]") {
    Roll roll = rig({Kind::intensity});
    add_cue(roll, at_once, {{0, 20000}});
    add_submaster(roll, {60000});
    Playing play(roll);
    play.engine.set_submaster(0, fifth, 0);
    CHECK(play.at(0) == 12000);
    play.engine.go(0);
    CHECK(play.at(0) == 20000);
    play.engine.set_submaster(0, half, second);
    CHECK(play.at(second) == 30000);
    CHECK(play.engine.changed(0));
    play.engine.set_submaster(0, full, second);
    CHECK(play.at(second) == 60000);
    play.engine.set_submaster(0, 0, second);
    CHECK(play.at(second) == 20000);
}

TEST_CASE("a submaster mixes its colour over the one beneath, in growing number, and jumps what jumps",
          "[reference][masters]") {
    Roll roll = rig({Kind::colour, Kind::beam});
    add_cue(roll, at_once, {{0, 10000}, {1, 10000}});
    add_submaster(roll, {50000, 50000});
    add_submaster(roll, {60000, 60000});
    roll.submasters[0].jumps = {{1, 1}};
    Playing play(roll);
    play.engine.go(0);
    play.engine.set_submaster(0, fifth, 0);
    CHECK(play.at(0, 0) == 18000);
    CHECK(play.at(0, 1) == 50000);
    play.engine.set_submaster(1, fifth, 0);
    CHECK(play.at(0, 0) == 26400);
    CHECK(play.at(0, 1) == 52000);
    play.engine.set_submaster(1, full, 0);
    CHECK(play.at(0, 0) == 60000);
}

TEST_CASE("what a submaster holds begins when it leaves 0", "[reference][masters]") {
    Roll roll = rig({Kind::intensity});
    const std::uint32_t chase = add_chase(roll, false, {500, 0}, {{10000}, {50000}});
    add_cue(roll, at_once, {});
    Submaster submaster;
    submaster.starts = {chase};
    submaster.runs = {{0, {1}, {chase}}};
    roll.submasters = {submaster};
    Playing play(roll);
    CHECK(play.at(3 * second) == 0);
    play.engine.set_submaster(0, full, 4 * second);
    CHECK(play.at(4 * second + 499 * ms) == 10000);
    play.engine.set_submaster(0, half, 4 * second + 499 * ms);
    CHECK(play.at(5 * second) == 25000);
    play.engine.set_submaster(0, 0, 6 * second);
    CHECK(play.at(6 * second) == 0);
    play.engine.set_submaster(0, full, 7 * second);  // again
    CHECK(play.at(7 * second) == 10000);
}

TEST_CASE("the grand master scales what stands under no other intensity", "[reference][masters]") {
    Roll roll = rig({Kind::intensity, Kind::intensity, Kind::colour, Kind::position});
    roll.parameters.under = {none, 0, 1, none};
    add_cue(roll, at_once, {{0, 50000}, {1, 40000}, {2, 30000}, {3, 20000}});
    add_submaster(roll, {60000});
    Playing play(roll);
    play.engine.go(0);
    play.engine.set_master(half, 0);
    CHECK(play.at(0, 0) == 25000);
    CHECK(play.at(0, 1) == 40000);
    CHECK(play.at(0, 2) == 30000);
    CHECK(play.at(0, 3) == 20000);
    play.engine.set_submaster(0, full, second);
    CHECK(play.at(second, 0) == 30000);
    play.engine.set_master(0, 2 * second);
    CHECK(play.at(2 * second, 0) == 0);
    play.engine.set_master(full, 3 * second);
    CHECK(play.at(3 * second, 0) == 60000);
}

TEST_CASE("a floor holds under cues and the grand master, and before the first GO", "[reference][masters]") {
    Roll roll = rig({Kind::intensity, Kind::intensity});
    roll.keeps = {{1, {6554}, {}}};
    add_cue(roll, at_once, {{0, 50000}, {1, 50000}});
    add_cue(roll, at_once, {{0, 0}, {1, 0}});
    Playing play(roll);
    CHECK(play.at(0, 0) == 0);
    CHECK(play.at(0, 1) == 6554);
    play.engine.go(0);
    CHECK(play.at(0, 1) == 50000);
    play.engine.set_master(0, second);
    CHECK(play.at(second, 0) == 0);
    CHECK(play.at(second, 1) == 6554);
    play.engine.set_master(full, second);
    play.engine.go(second);
    CHECK(play.at(second, 1) == 6554);
}

TEST_CASE("the panic look adds light and states the rest at once, over the grand master and under floors",
          "[reference][masters]") {
    using K = Kind;
    Roll roll = rig({K::intensity, K::intensity, K::colour, K::position, K::beam, K::intensity});
    roll.keeps = {{5, {50000}, {}}};
    roll.panic = {{0, {40000, 30000, 7000}, {}}, {4, {9000, 20000}, {}}};
    add_cue(roll, two_seconds, {{0, 50000}, {1, 20000}, {2, 60000}, {3, 10000}, {4, 800}, {5, 60000}});
    add_submaster(roll, {60000});
    Playing play(roll);
    const auto shown = [&](Tick t) {
        std::vector<int> levels;
        for (std::uint32_t p = 0; p < 6; ++p) levels.push_back(play.at(t, p));
        return levels;
    };
    using Levels = std::vector<int>;
    CHECK(shown(0) == Levels{0, 0, 0, 0, 0, 50000});
    play.engine.set_panic(true, 1);
    play.engine.advance(1);
    CHECK(play.engine.changed(0));
    CHECK(shown(1) == Levels{40000, 30000, 7000, 0, 9000, 50000});
    CHECK(shown(2) == Levels{40000, 30000, 7000, 0, 9000, 50000});
    CHECK_FALSE(play.engine.changed(0));
    play.engine.go(second);  // the show goes on beneath
    CHECK(shown(2 * second) == Levels{40000, 30000, 7000, 5000, 9000, 50000});
    CHECK(shown(3 * second) == Levels{50000, 30000, 7000, 10000, 9000, 60000});
    play.engine.set_submaster(0, full, 4 * second);
    CHECK(play.at(4 * second, 0) == 60000);
    play.engine.set_master(0, 5 * second);
    CHECK(shown(5 * second) == Levels{40000, 30000, 7000, 10000, 9000, 50000});
    play.engine.set_panic(false, 6 * second);
    CHECK(shown(6 * second) == Levels{0, 0, 60000, 10000, 800, 50000});
    play.engine.set_master(full, 7 * second);
    CHECK(shown(7 * second) == Levels{60000, 20000, 60000, 10000, 800, 60000});
}

TEST_CASE("a show plays the same beneath the panic look", "[reference][masters]") {
    Roll roll = rig({Kind::intensity, Kind::colour});
    roll.parameters.under[1] = 0;
    roll.panic = {{0, {full}, {}}};
    add_cue(roll, two_seconds, {{1, 40000}});
    Playing play(roll);
    play.engine.set_panic(true, 0);
    play.engine.go(second);  // in the dark, the panic look aside
    CHECK(play.at(second, 1) == 40000);
    CHECK(play.at(second, 0) == full);
}

TEST_CASE("panic shows nothing where a roll has no look for it", "[reference][masters]") {
    Roll roll = rig({Kind::intensity});
    add_cue(roll, at_once, {{0, 20000}});
    Playing play(roll);
    play.engine.go(0);
    play.engine.set_panic(true, 0);
    CHECK(play.at(0) == 20000);
    play.engine.set_master(half, second);
    CHECK(play.at(second) == 10000);
}

TEST_CASE("what is due before the panic key starts before it", "[reference][masters]") {
    Roll roll = rig({Kind::intensity});
    roll.panic = {{0, {100}, {}}};
    add_cue(roll, at_once, {{0, 20000}});
    add_cue(roll, at_once, {{0, 30000}});
    roll.cues[0].next = Next::follow;
    roll.cues[0].next_ms = 1000;
    Playing play(roll);
    play.engine.go(0);
    play.engine.set_panic(true, 3 * second);
    CHECK(play.engine.current() == 1u);
    CHECK(play.at(3 * second) == 30000);
}

TEST_CASE("a light is dark when no submaster and no floor lights it, the grand master aside",
          "[reference][masters]") {
    const auto colour_after_go = [](Level cue, Level submaster, Level master, Level floor) {
        Roll roll = rig({Kind::intensity, Kind::colour});
        roll.parameters.under[1] = 0;
        if (floor > 0) roll.keeps = {{0, {floor}, {}}};
        add_cue(roll, at_once, {{0, cue}});
        add_cue(roll, two_seconds, {{1, 40000}});
        add_submaster(roll, {full});
        Playing play(roll);
        play.engine.go(0);
        play.engine.set_submaster(0, submaster, 0);
        play.engine.set_master(master, 0);
        play.engine.go(100);
        return play.at(100, 1);
    };
    CHECK(colour_after_go(0, 0, full, 0) == 40000);
    CHECK(colour_after_go(0, 1, full, 0) == 0);
    CHECK(colour_after_go(0, 0, full, 1) == 0);
    CHECK(colour_after_go(1, 0, 0, 0) == 0);
}
