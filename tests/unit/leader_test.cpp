// Which player one that stands by follows, where several tell how their shows stand.
#include "runtime/survival/leader.hpp"

#include <catch2/catch.hpp>
#include <fmt/format.h>

using namespace tallow::runtime;
using Heard = Leader::Heard;

namespace {

constexpr std::uint64_t ms = 1000000;
constexpr const char *a = "10.0.0.1:5000", *a_again = "10.0.0.1:5001", *b = "10.0.0.2:5000";

}  // namespace

TEST_CASE("nobody is gone who was never heard", "[unit][survival]") {
    Leader leader;
    CHECK_FALSE(leader.gone(100000 * ms));
    CHECK_FALSE(leader.ends(a));
    CHECK(leader.tells(a, 100000 * ms) == Heard::followed);
    CHECK(leader.from() == a);
    CHECK_FALSE(leader.gone(101000 * ms));
    CHECK(leader.gone(101001 * ms));
}

TEST_CASE("the first that is heard is followed, others are told of once", "[unit][survival]") {
    Leader leader;
    leader.tells(a, 0);
    int told = 0;
    for (std::uint64_t t = 50 * ms; t < 5000 * ms; t += 50 * ms) {
        const Heard heard = leader.tells(b, t - 20 * ms);
        told += heard == Heard::another;
        if (heard != Heard::another) CHECK(heard == (told == 0 ? Heard::passed_over : Heard::known));
        CHECK(leader.tells(a, t) == Heard::followed);
        CHECK_FALSE(leader.gone(t));
    }
    CHECK(told == 1);
    CHECK_FALSE(leader.ends(b));
    CHECK(leader.followed());
    // The other one does not stand in for the one that is gone.
    CHECK(leader.tells(b, 5900 * ms) == Heard::known);
    CHECK(leader.gone(5951 * ms));
}

TEST_CASE("behind an end in order the next one that tells is followed", "[unit][survival]") {
    Leader leader;
    leader.tells(a, 0);
    CHECK(leader.ends(a));
    CHECK_FALSE(leader.ends(a));
    CHECK_FALSE(leader.gone(9000 * ms));
    CHECK(leader.tells(b, 9000 * ms) == Heard::followed);
    CHECK(leader.tells(a, 9010 * ms) == Heard::passed_over);
    leader.tells(b, 9020 * ms);
    CHECK(leader.tells(a, 9030 * ms) == Heard::another);
}

TEST_CASE("a player that is killed and started again at once is followed on", "[unit][survival]") {
    Leader leader;
    leader.tells(a, 1000 * ms);
    CHECK(leader.tells(a_again, 1200 * ms) == Heard::passed_over);
    CHECK(leader.tells(a_again, 1300 * ms) == Heard::passed_over);
    CHECK(leader.tells(a_again, 1301 * ms) == Heard::started_again);
    CHECK(leader.from() == a_again);
    CHECK_FALSE(leader.gone(2300 * ms));
    CHECK_FALSE(leader.ends(a));  // too late
    CHECK(leader.ends(a_again));
    // One of another machine is no such player.
    leader.tells(a, 5000 * ms);
    CHECK(leader.tells(b, 5200 * ms) == Heard::passed_over);
    CHECK(leader.tells(b, 5900 * ms) == Heard::passed_over);
    CHECK(leader.gone(6001 * ms));
}

TEST_CASE("two players of one machine are two", "[unit][survival]") {
    Leader leader;
    leader.tells(a, 0);
    leader.tells(a_again, 10 * ms);
    leader.tells(a, 50 * ms);
    CHECK(leader.tells(a_again, 60 * ms) == Heard::another);
    CHECK(leader.tells(a_again, 900 * ms) == Heard::known);
    CHECK(leader.gone(1051 * ms));
}

TEST_CASE("a crowd of strangers is not told of without end", "[unit][survival]") {
    Leader leader;
    leader.tells(a, 0);
    int told = 0;
    for (int i = 0; i < 1000; ++i) {
        const std::string stranger = fmt::format("10.1.{}.{}:9", i / 250, i % 250);
        for (int n = 0; n < 2; ++n) {
            told += leader.tells(stranger, 1) == Heard::another;
            CHECK(leader.tells(a, 2) == Heard::followed);
        }
    }
    CHECK(told == 8);
}
