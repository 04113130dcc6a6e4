#include "runtime/output/keeper.hpp"

#include <catch2/catch.hpp>

#include "runtime/output/bell.hpp"
#include "tests/support/wanting_output.hpp"

using namespace tallow;
using namespace tallow::runtime;
using State = OutputHealth::State;
using Told = std::vector<std::string>;

namespace {

constexpr std::uint64_t ms = 1000000;

// A keeper whose time the test tells.
struct Kept {
    std::vector<Universe> universes{{1, 2}};
    FrameRing ring{universes};
    std::uint64_t now = 1000 * ms;
    std::shared_ptr<test::Wanted> wanted = std::make_shared<test::Wanted>();
    Keeper keeper;

    explicit Kept(const Supervision& how = {})
        : keeper(test::opener(wanted), how, ring, [this] { return now; }) {}

    bool put(std::uint64_t number) {
        const std::uint8_t slots[2]{static_cast<std::uint8_t>(number), 0};
        const std::span<const std::uint8_t> all[1]{slots};
        return ring.put({number, all});
    }
    // Until there is nothing to do at this time; when there will be.
    std::uint64_t settle() {
        std::uint64_t next = Keeper::at_once;
        for (int steps = 0; next == Keeper::at_once; ++steps) {
            REQUIRE(steps < 100);
            next = keeper.step();
        }
        return next;
    }
};

}  // namespace

TEST_CASE("frames go out in order, each once, and then the end", "[unit][supervised]") {
    Kept kept;
    for (const std::uint64_t n : {5, 6, 7}) REQUIRE(kept.put(n));
    CHECK(kept.settle() == never);
    REQUIRE(kept.put(8));
    for (const std::uint64_t n : {9, 10, 11}) REQUIRE(kept.ring.put_end(n));
    CHECK(kept.settle() == never);
    CHECK(kept.keeper.finish().ok());
    CHECK(kept.wanted->told() ==
          Told{"open", "5", "6", "7", "8", "end 9", "end 10", "end 11", "finish", "close"});
    CHECK(kept.wanted->levels() == std::vector<int>{5, 6, 7, 8});
    const OutputHealth health = kept.keeper.health();
    CHECK(health.state == State::finished);
    CHECK(health.sent == 4);
    CHECK(health.dropped == 0);
    CHECK_FALSE(health.busy_since);
}

TEST_CASE("ends that an output misses are not counted as frames", "[unit][supervised]") {
    Kept kept;
    kept.wanted->opens = false;
    REQUIRE(kept.put(1));
    kept.settle();
    for (const std::uint64_t n : {2, 3, 4}) REQUIRE(kept.ring.put_end(n));
    kept.settle();
    CHECK(kept.keeper.health().dropped == 1);
    CHECK(kept.keeper.health().sent == 0);
}

TEST_CASE("an output that cannot be reached is tried again after growing pauses", "[unit][supervised]") {
    Kept kept;
    kept.wanted->opens = false;
    std::vector<std::uint64_t> pauses;
    for (unsigned tries = 1; tries <= 8; ++tries) {
        const std::uint64_t next = kept.settle();
        CHECK(kept.keeper.health().tries == tries);
        CHECK(kept.keeper.health().next_try == next);
        pauses.push_back((next - kept.now) / ms);
        kept.now = next - 1;
        CHECK(kept.settle() == next);  // not a moment earlier
        CHECK(kept.keeper.health().tries == tries);
        kept.now = next;
    }
    CHECK(pauses == std::vector<std::uint64_t>{250, 500, 1000, 2000, 4000, 5000, 5000, 5000});
    const OutputHealth health = kept.keeper.health();
    CHECK(health.state == State::down);
    CHECK(health.since == 1000 * ms);
    CHECK(health.why == "nobody is there");
    const Status end = kept.keeper.finish();
    CHECK(end.why() == "nobody is there");
    CHECK(kept.keeper.health().state == State::failed);
}

TEST_CASE("an output that can be opened but not sent through waits longer each time too",
          "[unit][supervised]") {
    Kept kept;
    kept.wanted->sends = false;
    std::vector<std::uint64_t> pauses;
    for (std::uint64_t n = 0; n < 4; ++n) {
        REQUIRE(kept.put(n));
        const std::uint64_t next = kept.settle();
        pauses.push_back((next - kept.now) / ms);
        kept.now = next;
    }
    CHECK(pauses == std::vector<std::uint64_t>{250, 500, 1000, 2000});
    CHECK(kept.wanted->told() == Told{"open", "close", "open", "close", "open", "close", "open", "close"});
}

TEST_CASE("an output that is back sends the latest frame first", "[unit][supervised]") {
    Kept kept;
    REQUIRE(kept.put(1));
    kept.settle();
    kept.wanted->sends = false;
    REQUIRE(kept.put(2));
    kept.now += 100 * ms;
    const std::uint64_t next = kept.settle();
    CHECK(next == kept.now + 250 * ms);
    CHECK(kept.keeper.health().state == State::down);
    CHECK(kept.keeper.health().why == "the cable is out");
    CHECK(kept.keeper.health().since == kept.now);
    for (std::uint64_t n = 3; n <= 30; ++n) {  // more than have room at once
        REQUIRE(kept.put(n));
        CHECK(kept.settle() == next);
    }
    kept.wanted->sends = true;
    kept.now = next;
    CHECK(kept.settle() == never);
    CHECK(kept.wanted->told() == Told{"open", "1", "close", "open", "30"});
    const OutputHealth health = kept.keeper.health();
    CHECK(health.state == State::works);
    CHECK(health.since == next);
    CHECK(health.why.empty());
    CHECK(health.tries == 0);
    CHECK_FALSE(health.next_try);
    CHECK(health.sent == 2);
    CHECK(health.dropped == 28);
    kept.wanted->sends = false;
    REQUIRE(kept.put(31));
    CHECK(kept.settle() == kept.now + 250 * ms);  // it worked: the pauses begin anew
}

TEST_CASE("an output that is back shows what was last sent, though no new frame comes",
          "[unit][supervised]") {
    Kept kept({.repeat_after = 100 * ms});
    REQUIRE(kept.put(1));
    CHECK(kept.settle() == kept.now + 100 * ms);
    kept.wanted->sends = false;
    kept.now += 100 * ms;
    const std::uint64_t next = kept.settle();
    kept.wanted->sends = true;
    kept.now = next;
    kept.settle();
    CHECK(kept.wanted->told() == Told{"open", "1", "close", "open", "1"});
    CHECK(kept.keeper.health().sent == 1);
}

TEST_CASE("a file that fails stays failed", "[unit][supervised]") {
    Kept kept({.retry = false});
    REQUIRE(kept.put(1));
    kept.settle();
    kept.wanted->sends = false;
    REQUIRE(kept.put(2));
    CHECK(kept.settle() == never);
    kept.wanted->sends = true;
    kept.now += 1000000 * ms;
    for (std::uint64_t n = 3; n <= 30; ++n) {
        REQUIRE(kept.put(n));
        CHECK(kept.settle() == never);
    }
    CHECK(kept.wanted->told() == Told{"open", "1", "close"});
    CHECK(kept.keeper.health().state == State::failed);
    CHECK_FALSE(kept.keeper.health().next_try);
    CHECK(kept.keeper.finish().why() == "the cable is out");
}

TEST_CASE("a file that cannot be finished has failed", "[unit][supervised]") {
    Kept kept({.retry = false});
    REQUIRE(kept.put(1));
    kept.settle();
    kept.wanted->finishes = false;
    CHECK(kept.keeper.finish().why() == "the disk is full");
    CHECK(kept.keeper.health().state == State::failed);
}

TEST_CASE("a slow line is given the latest frame, and no end is passed over", "[unit][supervised]") {
    Kept kept({.every_frame = false});
    REQUIRE(kept.put(1));
    kept.settle();
    for (const std::uint64_t n : {2, 3, 4}) REQUIRE(kept.put(n));
    kept.settle();
    REQUIRE(kept.put(5));
    for (const std::uint64_t n : {6, 7, 8}) REQUIRE(kept.ring.put_end(n));
    kept.settle();
    CHECK(kept.wanted->told() == Told{"open", "1", "4", "end 6", "end 7", "end 8"});
    CHECK(kept.keeper.health().sent == 2);
    CHECK(kept.keeper.health().dropped == 3);
}

TEST_CASE("what waited while newer frames found no room is old, and not sent", "[unit][supervised]") {
    Kept kept;
    REQUIRE(kept.put(1));
    kept.settle();
    for (std::uint64_t n = 2; n < 2 + FrameRing::frames - 1; ++n) REQUIRE(kept.put(n));
    CHECK_FALSE(kept.put(100));
    for (const std::uint64_t n : {101, 102, 103}) REQUIRE(kept.ring.put_end(n));
    CHECK_FALSE(kept.ring.put_end(104));
    kept.settle();
    CHECK(kept.wanted->told() == Told{"open", "1", "end 101", "end 102", "end 103"});
    REQUIRE(kept.put(105));
    kept.settle();
    CHECK(kept.wanted->told().back() == "105");
    CHECK(kept.keeper.health().sent == 2);
    CHECK(kept.keeper.health().dropped == FrameRing::frames);
}

TEST_CASE("the last old frame is not sent either: the next one that comes is", "[unit][supervised]") {
    Kept kept;
    REQUIRE(kept.put(1));
    kept.settle();
    for (std::uint64_t n = 2; n < 2 + FrameRing::frames - 1; ++n) REQUIRE(kept.put(n));
    REQUIRE_FALSE(kept.put(100));
    CHECK(kept.settle() == never);
    CHECK(kept.wanted->told() == Told{"open", "1"});
    REQUIRE(kept.put(101));
    kept.settle();
    CHECK(kept.wanted->told() == Told{"open", "1", "101"});
    CHECK(kept.keeper.health().dropped == FrameRing::frames);
}

TEST_CASE("the last frame is sent again when none comes for a while", "[unit][supervised]") {
    Kept kept({.every_frame = false, .repeat_after = 250 * ms});
    CHECK(kept.settle() == never);
    kept.now += 1000 * ms;
    CHECK(kept.settle() == never);
    CHECK(kept.wanted->told() == Told{"open"});  // there is none yet
    REQUIRE(kept.put(1));
    CHECK(kept.settle() == kept.now + 250 * ms);
    kept.now += 250 * ms - 1;
    CHECK(kept.settle() == kept.now + 1);
    kept.now += 1;
    CHECK(kept.settle() == kept.now + 250 * ms);
    CHECK(kept.wanted->told() == Told{"open", "1", "1"});
    CHECK(kept.keeper.health().sent == 1);
}

TEST_CASE("a frame of another shape is taken as far as it fits", "[unit][supervised]") {
    const std::vector<Universe> universes{{1, 2}, {2, 3}};
    FrameRing ring(universes);
    const std::uint8_t a[4]{1, 2, 3, 4}, b[1]{5};
    const std::span<const std::uint8_t> slots[3]{a, b, a};
    REQUIRE(ring.put({7, slots}));
    const Frame& frame = ring.first().frame;
    REQUIRE(frame.slots.size() == 2);
    CHECK(std::vector<int>(frame.slots[0].begin(), frame.slots[0].end()) == std::vector<int>{1, 2});
    CHECK(std::vector<int>(frame.slots[1].begin(), frame.slots[1].end()) == std::vector<int>{5, 0, 0});
}
