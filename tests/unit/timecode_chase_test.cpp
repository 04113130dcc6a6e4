#include "runtime/control/timecode_chase.hpp"

#include <catch2/catch.hpp>
#include <cstdlib>

#include "runtime/timecode.hpp"
#include "tests/support/random.hpp"
#include "tests/support/simple_roll.hpp"

using namespace tallow;
using namespace tallow::runtime;

namespace {

constexpr std::uint64_t second = 1000000000, frame_ns = second / 25;
constexpr std::uint64_t start = 1000 * second;  // of the clock

// A show at 25 frames a second and 40 Hz (a frame of timecode is 1600 ticks), with a cue at each frame given.
Roll show(std::initializer_list<std::uint64_t> cues) {
    Roll roll = test::rig({Kind::intensity});
    for (const std::uint64_t frame : cues) test::add_cue(roll, {}, {{0, full}}).timecode = frame;
    return roll;
}

// Feeds a chase and keeps what it said.
struct Tape {
    explicit Tape(const Roll& roll, bool run_on = true) : chase(roll, run_on) {}
    void take(std::uint64_t ns, std::uint64_t frame, bool located = false,
              TimecodeRate rate = TimecodeRate::f25) {
        keep(chase.take(ns, {ns, frame, rate, located}));
    }
    void pass(std::uint64_t ns) { keep(chase.pass(ns)); }
    void keep(TimecodeChase::Found found) {
        for (Order& o : found.orders) orders.push_back(o);
        for (std::string& n : found.notices) notices.push_back(n);
    }
    // Frames from `frame` on, each at its time.
    void play(std::uint64_t ns, std::uint64_t frame, unsigned count) {
        for (unsigned i = 0; i < count; ++i) take(ns + i * frame_ns, frame + i);
    }
    TimecodeChase chase;
    std::vector<Order> orders;
    std::vector<std::string> notices;
};

Order code(std::uint64_t ns, Tick ticks) {
    Order order{ns, {}};
    order.command.what = Command::What::tape;
    order.command.code = ticks;
    return order;
}

Order lost(std::uint64_t ns) {
    Order order{ns, {}};
    order.command.what = Command::What::tape_lost;
    return order;
}

bool same(const std::vector<Order>& a, const std::vector<Order>& b) {
    return std::equal(a.begin(), a.end(), b.begin(), b.end(),
                      [](const Order& x, const Order& y) { return x.ns == y.ns && x.command == y.command; });
}

}  // namespace

TEST_CASE("timecode is believed at its second frame, and told once while it runs evenly",
          "[unit][timecode]") {
    Tape tape(show({}));
    tape.take(start, 90000);
    CHECK(tape.orders.empty());
    tape.play(start + frame_ns, 90001, 1000);
    CHECK(same(tape.orders, {code(start + frame_ns, 90001 * 1600)}));
    CHECK(tape.notices.empty());
}

TEST_CASE("a frame that was read late is dated back", "[unit][timecode]") {
    Tape tape(show({}));
    tape.keep(tape.chase.take(start, {start - 70000000, 100, TimecodeRate::f25}));
    tape.keep(
        tape.chase.take(start + 2 * frame_ns, {start + 2 * frame_ns - 70000000, 102, TimecodeRate::f25}));
    CHECK(same(tape.orders, {code(start + 2 * frame_ns, 102 * 1600 + 2800)}));  // 70 ms are 2800 ticks
}

TEST_CASE("jitter of a frame and more moves nothing", "[unit][timecode]") {
    Tape tape(show({}));
    tape.play(start, 0, 2);
    test::Random random(7);
    for (std::uint64_t i = 2; i < 5000; ++i)
        tape.take(start + i * frame_ns - 20000000 + random.below(40000000), i);
    CHECK(tape.orders.size() == 1);
    tape.take(start + 5000 * frame_ns + 70000000, 5000);
    CHECK(tape.orders.size() == 1);
}

TEST_CASE("drift is followed in small steps", "[unit][timecode]") {
    // A tape that runs one part in a thousand slow, as 29.97 against 30: 4 frames in 4000.
    Tape tape(show({}));
    const std::uint64_t slow = frame_ns + frame_ns / 1000;
    for (std::uint64_t i = 0; i < 4000; ++i) tape.take(start + i * slow, i);
    REQUIRE(tape.orders.size() > 4);
    CHECK(tape.orders.size() < 10);
    const Order& last = tape.orders.back();
    // Never more than a frame off where the tape is.
    for (std::size_t i = 1; i < tape.orders.size(); ++i) {
        const Order& o = tape.orders[i];
        const auto is = static_cast<std::int64_t>((o.ns - start) * 1600 / slow);
        CHECK(std::abs(is - static_cast<std::int64_t>(o.command.code)) < 800);
    }
    CHECK(last.ns > start + 3000 * slow);
}

TEST_CASE("a step for drift waits while a cue lies in it", "[unit][timecode]") {
    // Each frame is read 25 ms late, 1000 ticks, so that frames begin in the middle of the step.
    const std::uint64_t slow = frame_ns + frame_ns / 1000, late = 25000000;
    const auto run = [&](const Roll& roll) {
        Tape tape(roll);
        for (std::uint64_t i = 0; i < 700; ++i)
            tape.keep(tape.chase.take(start + i * slow + late, {start + i * slow, i, TimecodeRate::f25}));
        REQUIRE(tape.orders.size() == 2);
        return tape.orders[1];
    };
    const Order free = run(show({}));
    const std::uint64_t cue = free.command.code / 1600 + 1;  // what the step would go back over
    REQUIRE(cue * 1600 - free.command.code < 800);
    const Order held = run(show({cue}));
    CHECK(held.ns > free.ns);
    CHECK(held.command.code > cue * 1600);
}

TEST_CASE("a jump is obeyed when it is seen twice", "[unit][timecode]") {
    Tape tape(show({}));
    tape.play(start, 0, 10);
    tape.take(start + 10 * frame_ns, 9000);  // one wrong frame
    tape.play(start + 11 * frame_ns, 11, 10);
    REQUIRE(tape.orders.size() == 1);
    tape.play(start + 21 * frame_ns, 9000, 10);
    tape.play(start + 31 * frame_ns, 50, 10);  // and back
    CHECK(same(tape.orders, {code(start + frame_ns, 1600), code(start + 22 * frame_ns, 9001 * 1600),
                             code(start + 32 * frame_ns, 51 * 1600)}));
    CHECK(tape.notices.empty());
}

TEST_CASE("midnight is a jump", "[unit][timecode]") {
    Tape tape(show({}));
    const std::uint64_t day = frames_per_day(TimecodeRate::f25);
    tape.play(start, day - 5, 5);
    tape.play(start + 5 * frame_ns, 0, 5);
    REQUIRE(tape.orders.size() == 2);
    CHECK(tape.orders[1].command == code(0, 1600).command);
}

TEST_CASE("a full frame moves at once, and stops there", "[unit][timecode]") {
    Tape tape(show({}));
    tape.play(start, 0, 10);
    tape.take(start + second, 5000, true);
    CHECK(same(tape.orders,
               {code(start + frame_ns, 1600), code(start + second, 5000 * 1600), lost(start + second)}));
    CHECK_FALSE(tape.chase.due());
    tape.pass(start + 10 * second);
    CHECK(tape.notices.empty());
    // Where the engine is already, nothing moves.
    tape.play(start + 20 * second, 0, 3);
    tape.take(start + 20 * second + 3 * frame_ns, 3, true);
    REQUIRE(tape.orders.size() == 5);
    CHECK(same({tape.orders[4]}, {lost(start + 20 * second + 3 * frame_ns)}));
}

TEST_CASE("timecode that is lost runs on, or stops", "[unit][timecode]") {
    for (const bool run_on : {true, false}) {
        Tape tape(show({}), run_on);
        tape.play(start, 0, 10);
        const std::uint64_t last = start + 9 * frame_ns;
        REQUIRE(tape.chase.due() == last + second / 2);
        tape.pass(last + second / 2 - 1);
        CHECK(tape.notices.empty());
        tape.pass(last + second / 2);
        tape.pass(last + second);
        CHECK(tape.notices.size() == 1);
        if (run_on)
            CHECK(tape.orders.size() == 1);
        else
            CHECK(same(tape.orders, {code(start + frame_ns, 1600), lost(last + second / 2)}));
        // It comes back where it would be: who ran on need not be told.
        tape.play(start + 100 * frame_ns, 100, 3);
        CHECK(tape.orders.size() == (run_on ? 1u : 3u));
        REQUIRE(tape.notices.size() == 2);
        CHECK(tape.notices[1] == "timecode is back");
    }
}

TEST_CASE("timecode that runs backwards or stands still stops, and goes on when it runs",
          "[unit][timecode]") {
    for (const bool still : {true, false}) {
        Tape tape(show({}));
        tape.play(start, 1000, 10);
        for (std::uint64_t i = 0; i < 20; ++i)
            tape.take(start + (10 + i) * frame_ns, still ? 1009 : 1009 - i);
        REQUIRE(tape.orders.size() == 2);
        CHECK(tape.orders[1].command.what == Command::What::tape_lost);
        CHECK(tape.notices.size() == 1);
        tape.play(start + 40 * frame_ns, 900, 5);
        REQUIRE(tape.orders.size() == 3);
        CHECK(tape.orders[2].command == code(0, 901 * 1600).command);
    }
}

TEST_CASE("timecode at another rate is taken by time, and said once", "[unit][timecode]") {
    Tape tape(show({}));
    const std::uint64_t ns = second / 30;
    for (std::uint64_t i = 0; i < 300; ++i) tape.take(start + i * ns, 108000 + i, false, TimecodeRate::f30);
    REQUIRE(tape.orders.size() == 1);
    // 01:00:00:01 at 30, in ticks of 25 µs.
    CHECK(tape.orders[0].command.code == 3600 * 40000 + 1333);
    CHECK(tape.notices ==
          std::vector<std::string>{"timecode comes at 30 frames a second and the show is written "
                                   "for 25; its cues start by time"});
}

// A cue each second, from tapes that run up to two parts in a thousand wrong, each frame up to 15 ms early or
// late.
TEST_CASE("an engine that chases a tape starts each cue once, and within two frames", "[unit][timecode]") {
    Roll roll = test::rig({Kind::intensity});
    constexpr std::uint64_t cues = 60;
    for (std::uint64_t i = 0; i < cues; ++i) test::add_cue(roll, {}, {{0, full}}).timecode = 25 * (i + 1);
    for (const std::int64_t wrong : {-2, -1, 0, 1, 2}) {
        INFO(wrong);
        const std::uint64_t tape_ns =
            frame_ns + static_cast<std::uint64_t>(wrong * std::int64_t{frame_ns} / 1000);
        Engine engine(roll);
        TimecodeChase chase(roll, true);
        test::Random random(17);
        std::vector<std::uint32_t> begun;
        std::uint64_t frame = 0, read_at = start;
        for (std::uint64_t ns = start; frame < 25 * (cues + 2); ns += second / 40) {
            for (; read_at <= ns; read_at = start + ++frame * tape_ns + random.below(30000000))
                for (const Order& o : chase.take(read_at, {read_at, frame, TimecodeRate::f25}).orders) {
                    REQUIRE(o.command.what == Command::What::tape);
                    engine.timecode((o.ns - start) / 25000, o.command.code);
                }
            engine.advance((ns - start) / 25000);
            for (const std::uint32_t cue : engine.begun()) {
                begun.push_back(cue);
                const auto due = static_cast<std::int64_t>(start + 25 * (cue + 1) * tape_ns);
                CHECK(std::abs(static_cast<std::int64_t>(ns) - due) < 80000000);
            }
        }
        REQUIRE(begun.size() == cues);
        for (std::uint32_t i = 0; i < cues; ++i) CHECK(begun[i] == i);
    }
}
