// Cues that timecode starts, by the rules of LANGUAGE.md; values computed by hand. A frame at 25 a second is
// 40 ms.
#include <catch2/catch.hpp>

#include "tests/support/simple_roll.hpp"

using namespace tallow;
using namespace tallow::runtime;
using namespace tallow::test;

namespace {

constexpr Tick ms = 40, second = 1000 * ms;  // at 40 frames per second
constexpr Timing at_once{}, two_seconds{0, 2000, 2000, Curve::linear};

// Cues at levels 10000, 20000 … of a lamp, with fades of two seconds, at these seconds of timecode.
Roll coded(std::initializer_list<std::uint64_t> seconds) {
    Roll roll = rig({Kind::intensity});
    for (const std::uint64_t s : seconds) {
        const auto level = static_cast<Level>(10000 * (roll.cues.size() + 1));
        add_cue(roll, two_seconds, {{0, level}}).timecode = s * 25;
    }
    return roll;
}

}  // namespace

TEST_CASE("a cue starts as the timecode passes its frame, at its exact time", "[reference][timecode]") {
    Roll roll = coded({10, 11});
    roll.cues[1].timecode = 11 * 25 + 1;
    Playing play(roll);
    play.engine.timecode(333, 9 * second);
    CHECK_FALSE(play.engine.at_rest(100 * second));
    CHECK(play.at(332 + second) == 0);
    CHECK_FALSE(play.engine.current());
    CHECK(play.at(333 + 2 * second) == 5000);
    CHECK(play.at(333 + 2 * second + 40 * ms) == 5200);
    CHECK(play.engine.current() == 1u);
    CHECK(play.at(333 + 3 * second + 40 * ms) == 12600);  // half-way from 5200 to 20000
    CHECK(play.at(333 + 4 * second + 40 * ms) == 20000);
    CHECK(play.engine.at_rest(333 + 4 * second + 40 * ms));
}

TEST_CASE("a cue that is not next is played as a whole picture, and the list goes on behind it",
          "[reference][timecode]") {
    Roll roll = rig({Kind::intensity, Kind::intensity});
    add_cue(roll, at_once, {{0, 10000}});
    add_cue(roll, at_once, {{1, 20000}});
    Cue& third = add_cue(roll, two_seconds, {{0, 40000}});
    third.timecode = 250;
    third.next = Next::follow;
    add_cue(roll, at_once, {{0, 50000}});
    Playing play(roll);
    play.engine.timecode(0, 10 * second);
    play.engine.advance(0);
    CHECK(play.engine.current() == 2u);
    CHECK(play.engine.next() == 3u);
    CHECK(play.at(second, 0) == 20000);
    CHECK(play.at(second, 1) == 10000);      // the second cue's, in the third's time
    CHECK(play.at(2 * second, 0) == 50000);  // the fourth follows
}

TEST_CASE(
    "a jump of the code puts a list where it belongs, and the same code running on starts nothing twice",
    "[reference][timecode]") {
    Playing play(coded({10, 20, 30}));
    play.engine.timecode(0, 9 * second);
    play.engine.advance(2 * second);
    CHECK(play.engine.current() == 0u);
    play.engine.timecode(2 * second, 25 * second);  // past the second
    CHECK(play.at(4 * second) == 20000);            // in its own two seconds from the jump on
    CHECK(play.engine.current() == 1u);
    play.engine.timecode(4 * second, 19 * second);  // and back before it
    CHECK(play.engine.current() == 0u);
    play.engine.advance(5 * second);
    CHECK(play.engine.current() == 1u);
    CHECK(play.engine.complete_at() == 7 * second);
    play.engine.timecode(5 * second, 20 * second);  // where it stands anyway
    play.engine.advance(6 * second);
    CHECK(play.engine.begun().empty());
    play.engine.timecode_stop(6 * second);
    play.engine.advance(60 * second);
    CHECK(play.engine.current() == 1u);
    CHECK(play.engine.at_rest(60 * second));
}

TEST_CASE("a jump of the code counts what follows a cue by itself, and leaves be what a GO by hand reached",
          "[reference][timecode]") {
    Roll roll = coded({10, 20, 30, 40, 50});
    for (const std::size_t i : {1u, 2u, 3u}) roll.cues[i].timecode = no_timecode;
    roll.cues[0].next = Next::next_at;
    roll.cues[0].next_ms = 6000;
    Playing play(roll);
    play.engine.timecode(0, 15 * second);
    CHECK(play.engine.current() == 0u);
    CHECK(play.engine.next_start() == second);  // 16 s of the code
    play.engine.timecode(0, 18 * second);
    CHECK(play.engine.current() == 1u);
    CHECK_FALSE(play.engine.next_start());
    play.engine.go(second);
    play.engine.timecode(2 * second, 40 * second);
    CHECK(play.engine.current() == 2u);  // by hand: it stays
    play.engine.timecode(3 * second, 12 * second);
    CHECK(play.engine.current() == 2u);
    play.engine.timecode(4 * second, 51 * second);
    CHECK(play.engine.current() == 4u);
    play.engine.timecode(5 * second, 5 * second);  // before all: nothing says where it belongs
    CHECK(play.engine.current() == 4u);
}

TEST_CASE("a cue by timecode cancels what was pending, at the same instant too", "[reference][timecode]") {
    Roll roll = coded({5, 10, 20});
    for (Cue& cue : roll.cues) cue.timecode = no_timecode;
    roll.cues[0].next = Next::next_at;
    roll.cues[0].next_ms = GENERATE(10000u, 15000u);
    roll.cues[1].timecode = 250;
    Playing play(roll);
    play.engine.timecode(0, 0);
    play.engine.go(0);
    play.engine.advance(16 * second);
    CHECK(play.engine.current() == 1u);
    CHECK(play.engine.complete_at() == 12 * second);
    CHECK(play.engine.next() == 2u);
}

TEST_CASE("a step of the code that is no jump leaves a cue be that GO began ahead of it",
          "[reference][timecode]") {
    Playing play(coded({10, 20, 30}));
    play.engine.timecode(0, 9 * second);
    play.engine.advance(second);
    CHECK(play.engine.current() == 0u);
    play.engine.go(2 * second);
    play.engine.timecode(3 * second, 12 * second + 40 * ms);  // a frame on
    CHECK(play.engine.current() == 1u);
    play.engine.timecode(4 * second, 15 * second);  // a jump
    CHECK(play.engine.current() == 0u);
}
