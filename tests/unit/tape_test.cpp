// A show that goes by a tape's timecode, and what the operator does beside it.
#include <catch2/catch.hpp>

#include "runtime/play/performance.hpp"
#include "tests/support/simple_roll.hpp"

using namespace tallow;
using namespace tallow::runtime;

namespace {

using What = Command::What;

constexpr Tick second = 40 * ticks_per_frame;  // at 40 Hz

// Two lists; the first with cues 1 to 4, of which 2 and 4 have the timecode 10 s and 30 s and 3 comes 3 s
// after 2; the second with a cue at each of 5, 15 and 25 s.
Roll show() {
    Roll roll = test::rig({Kind::intensity, Kind::intensity});
    for (const std::uint64_t at : {0, 10, 0, 30}) {
        Cue& cue = test::add_cue(roll, {}, {{0, full}});
        if (at > 0) cue.timecode = at * 25;
    }
    roll.cues[1].next = Next::next_at;
    roll.cues[1].next_ms = 3000;
    for (const std::uint64_t at : {5, 15, 25}) test::add_cue(roll, {}, {{1, full}}).timecode = at * 25;
    roll.lists = {{"main", 0, 4}, {"side", 4, 3}};
    return roll;
}

// Which cues of both lists are present, counted from 1 in each; 0 for none.
using Cues = std::pair<std::uint32_t, std::uint32_t>;

class Show {
  public:
    void tell(Tick s, What what, Tick code_s = 0) {
        Command command{what};
        command.code = code_s * second;
        performance.obey(command, s * second);
    }
    Cues at(Tick s) {
        performance.advance(s * second);
        const auto main = performance.engine().current(0), side = performance.engine().current(1);
        return {main ? *main + 1 : 0, side ? *side - 3 : 0};
    }
    bool begins_at(Tick s) {
        performance.advance(s * second - 1);
        performance.advance(s * second);
        return !performance.engine().begun().empty();
    }

    const Roll roll = show();
    Performance performance{roll, {}};
};

}  // namespace

TEST_CASE("a cue that GO began before its code is not begun again, and what follows counts from the code",
          "[unit][timecode]") {
    Show show;
    show.tell(0, What::tape, 0);
    show.tell(1, What::go);
    CHECK(show.at(8) == Cues{1, 1});
    show.tell(8, What::go);
    CHECK(show.at(9) == Cues{2, 1});
    CHECK_FALSE(show.begins_at(10));
    CHECK(show.at(12) == Cues{2, 1});
    CHECK(show.begins_at(13));
    CHECK(show.at(13) == Cues{3, 1});
}

TEST_CASE("a cue whose list was stopped is begun by its code", "[unit][timecode]") {
    Show show;
    show.tell(0, What::tape, 0);
    show.tell(8, What::go);
    show.tell(8, What::go);
    Command stop{What::stop, 0};
    show.performance.obey(stop, 9 * second);
    CHECK(show.begins_at(10));
}

TEST_CASE("after a pause the lists go where the tape has come to", "[unit][timecode]") {
    Show show;
    show.tell(0, What::tape, 0);
    CHECK(show.at(11) == Cues{2, 1});
    show.tell(11, What::pause);
    CHECK(show.at(16) == Cues{2, 1});
    show.tell(16, What::resume);
    CHECK(show.at(16) == Cues{3, 2});
    CHECK(show.at(25) == Cues{3, 3});  // and at its own times from there on
}

TEST_CASE("a GO that ends a pause counts; its list stays until its next code", "[unit][timecode]") {
    Show show;
    show.tell(0, What::tape, 0);
    show.tell(1, What::go);
    CHECK(show.at(6) == Cues{1, 1});
    show.tell(6, What::pause);
    show.tell(8, What::tape, 8);  // as a drift is corrected
    SECTION("ahead of the tape") {
        show.tell(9, What::go);
        CHECK(show.at(9) == Cues{2, 1});
        show.tell(9, What::tape, 9);
        CHECK_FALSE(show.begins_at(10));
        CHECK(show.at(15) == Cues{3, 2});
    }
    SECTION("behind it") {
        show.tell(20, What::go);
        CHECK(show.at(20) == Cues{2, 2});
        show.tell(29, What::timecode_on);
        CHECK(show.at(30) == Cues{4, 3});
    }
}

TEST_CASE("a GO that moves nothing leaves its list to the tape", "[unit][timecode]") {
    Show show;
    show.tell(0, What::tape, 30);
    CHECK(show.at(1) == Cues{4, 3});
    show.tell(1, What::pause);
    show.tell(2, What::tape, 12);
    show.tell(3, What::go);
    CHECK(show.at(3) == Cues{3, 1});
}

TEST_CASE("a hold of all sets the tape aside until a GO, or until it is to be followed again",
          "[unit][timecode]") {
    Show show;
    show.tell(0, What::tape, 0);
    CHECK(show.at(6) == Cues{0, 1});
    show.tell(6, What::hold);
    show.tell(12, What::tape, 12);
    show.tell(14, What::resume);  // there is no pause
    CHECK(show.at(14) == Cues{0, 1});
    SECTION("followed again: all go where it is") {
        show.tell(14, What::timecode_on);
        CHECK(show.at(14) == Cues{3, 1});
        CHECK(show.at(15) == Cues{3, 2});
    }
    SECTION("GO: one is moved by hand, the other goes where it is") {
        show.tell(16, What::go);
        CHECK(show.at(16) == Cues{1, 2});
        CHECK(show.at(30) == Cues{4, 3});
    }
    SECTION("it stands still meanwhile") {
        show.tell(14, What::tape_lost);
        show.tell(20, What::timecode_on);
        CHECK(show.at(20) == Cues{3, 1});
        CHECK(show.at(60) == Cues{3, 1});
    }
}

TEST_CASE("a tape that is lost in a pause starts nothing after it", "[unit][timecode]") {
    Show show;
    show.tell(0, What::tape, 0);
    show.tell(6, What::pause);
    show.tell(7, What::tape_lost);
    show.tell(8, What::resume);
    CHECK(show.at(60) == Cues{0, 1});
}

TEST_CASE("a full frame in a pause puts the lists there when it ends", "[unit][timecode]") {
    Show show;
    show.tell(0, What::pause);
    show.tell(1, What::tape, 26);
    show.tell(1, What::tape_lost);
    CHECK(show.at(2) == Cues{0, 0});
    show.tell(9, What::resume);
    CHECK(show.at(9) == Cues{3, 3});
    CHECK(show.at(60) == Cues{3, 3});
}

TEST_CASE("timecode that is switched off or typed stays so whatever is played by hand", "[unit][timecode]") {
    Show show;
    show.tell(0, What::tape, 0);
    SECTION("off") {
        show.tell(1, What::timecode_off);
        show.tell(2, What::tape, 2);  // as a drift is corrected
        show.tell(3, What::go);
        CHECK(show.at(11) == Cues{1, 0});
        show.tell(12, What::timecode_on);
        CHECK(show.at(12) == Cues{2, 1});
    }
    SECTION("typed") {
        show.tell(1, What::timecode, 28);
        show.tell(2, What::tape, 2);
        CHECK(show.at(2) == Cues{3, 3});
        CHECK(show.at(3) == Cues{4, 3});
        show.tell(4, What::go);
        show.tell(5, What::tape, 5);
        CHECK(show.at(6) == Cues{4, 3});
    }
}

TEST_CASE("that the tape is set aside is kept with the state of a show", "[unit][timecode]") {
    const auto use = GENERATE(TapeUse::held, TapeUse::refused);
    Show show;
    show.tell(0, What::tape, 0);
    show.tell(1, use == TapeUse::held ? What::hold : What::timecode_off);
    show.at(6);
    CHECK(show.performance.tape_use() == use);
    Performance other(show.roll, {});
    other.restore(show.performance.standing(), false, show.performance.tape_use(), 6 * second);
    other.obey({.what = What::tape, .code = 6 * second}, 6 * second);
    other.advance(12 * second);
    CHECK_FALSE(other.engine().current(1));
    other.obey({What::timecode_on}, 12 * second);
    other.advance(12 * second);
    CHECK(other.engine().current(1) == 4u);
}

TEST_CASE("a tape that is heard of late has run on meanwhile", "[unit][timecode]") {
    Show show;
    show.at(2);
    Command tape{.what = What::tape, .code = 3 * second};
    show.performance.obey(tape, 1 * second);
    CHECK_FALSE(show.begins_at(2));
    CHECK(show.begins_at(3));  // at code 5 s
}

TEST_CASE("timecode that is typed stands still in a pause", "[unit][timecode]") {
    Show show;
    show.tell(0, What::timecode, 0);
    show.tell(6, What::pause);
    show.tell(7, What::timecode, 14);
    CHECK(show.at(20) == Cues{3, 1});
    show.tell(20, What::resume);
    CHECK(show.at(20) == Cues{3, 1});
    CHECK(show.at(21) == Cues{3, 2});
}

TEST_CASE("a changed show follows the tape that the one before followed", "[unit][timecode]") {
    Show show;
    show.tell(0, What::tape, 0);
    show.tell(6, What::hold);
    show.at(6);
    Performance changed(show.roll, {});
    changed.restore(show.performance.standing(), false, TapeUse::followed, 6 * second);
    changed.advance(6 * second);
    changed.dissolve(show.performance, {0, 1}, 6 * second, 1000);
    changed.advance(14 * second);
    CHECK(changed.engine().current(0) == std::nullopt);
    changed.obey({What::timecode_on}, 16 * second);
    changed.advance(16 * second);
    CHECK(changed.engine().current(0) == 2u);
}
