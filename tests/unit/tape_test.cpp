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
        if (what == What::hold || what == What::pause || what == What::resume) command.index = none;
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
        show.tell(29, What::hold);
        show.tell(29, What::resume);
        CHECK(show.at(30) == Cues{4, 3});
    }
}

TEST_CASE("a hold of all sets the tape aside until a GO or a resume", "[unit][timecode]") {
    Show show;
    show.tell(0, What::tape, 0);
    CHECK(show.at(6) == Cues{0, 1});
    show.tell(6, What::hold);
    show.tell(12, What::tape, 12);
    CHECK(show.at(14) == Cues{0, 1});
    SECTION("resume: all go where it is") {
        show.tell(14, What::resume);
        CHECK(show.at(14) == Cues{3, 1});
        CHECK(show.at(15) == Cues{3, 2});
    }
    SECTION("GO: one is moved by hand, the other goes where it is") {
        show.tell(16, What::go);
        CHECK(show.at(16) == Cues{1, 2});
        CHECK(show.at(30) == Cues{4, 3});
    }
    SECTION("it is lost meanwhile") {
        show.tell(14, What::tape_lost);
        show.tell(15, What::resume);
        CHECK(show.at(40) == Cues{0, 1});
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
    changed.restore(show.performance.standing(), false, 6 * second);
    changed.advance(6 * second);
    changed.dissolve(show.performance, {0, 1}, 6 * second, 1000);
    changed.advance(14 * second);
    CHECK(changed.engine().current(0) == std::nullopt);
    Command resume{What::resume};
    changed.obey(resume, 16 * second);
    changed.advance(16 * second);
    CHECK(changed.engine().current(0) == 2u);
}
