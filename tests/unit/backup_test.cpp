// Whether somebody stands by, as the player that tells shows it.
#include "runtime/survival/backup.hpp"

#include <catch2/catch.hpp>

using namespace tallow::runtime;

namespace {

constexpr std::uint64_t ms = 1000000;
constexpr const char* nobody =
    "nobody stands by at 10.0.0.7 port 7701: nothing answers; start the other one with `--standby "
    "0.0.0.0:7701`, and give both the same `--osc-secret` or none";

struct Told : Backup {
    Told() : Backup("10.0.0.7 port 7701", "0.0.0.0:7701") {}
    // Told twenty times a second, answered twice, until then. What is new, in lines.
    std::string until(std::uint64_t end_ms, bool answered, StandsBy how = StandsBy::for_this_show) {
        std::string all;
        for (; now < end_ms; now += 50) {
            told(now * ms);
            if (answered && now % 500 == 0) answers("10.0.0.7", how, now * ms);
            if (const std::string line = news(now * ms); !line.empty()) all += line + '\n';
        }
        return all;
    }
    std::uint64_t now = 1000;
};

}  // namespace

TEST_CASE("that nobody stands by is said once, after three seconds", "[unit][standby]") {
    Told one;
    CHECK(one.until(4050, false) == "");
    CHECK(one.line(4000 * ms) == "");
    CHECK(one.until(4100, false) == nobody + std::string("\n"));
    CHECK(one.until(60000, false) == "");
    CHECK(one.line(one.now * ms) == "nobody stands by at 10.0.0.7 port 7701: nothing answers");
    CHECK_FALSE(one.well(one.now * ms));
    CHECK(one.until(62000, true) == "10.0.0.7 stands by\n");
    CHECK(one.well(one.now * ms));
}

TEST_CASE("that somebody stands by is said once, and when it is gone, and back", "[unit][standby]") {
    Told one;
    CHECK(one.until(20000, true) == "10.0.0.7 stands by\n");
    CHECK(one.line(one.now * ms) == "10.0.0.7 stands by");
    CHECK(one.until(22500, false) == "");
    CHECK(one.until(40000, false) == nobody + std::string("\n"));
    CHECK(one.until(60000, true) == "10.0.0.7 stands by again\n");
    CHECK(one.until(80000, false) == nobody + std::string("\n"));
}

TEST_CASE("nobody is missed who was told of nothing yet", "[unit][standby]") {
    Backup one("10.0.0.7 port 7701", "0.0.0.0:7701");
    CHECK(one.news(60000 * ms) == "");
    CHECK(one.line(60000 * ms) == "");
}

TEST_CASE("what somebody stands by with is said when it changes", "[unit][standby]") {
    Told one;
    CHECK(one.until(5000, true, StandsBy::another_show) ==
          "10.0.0.7 stands by with another show; it would take over by cue numbers: start it again with what "
          "plays here\n");
    CHECK_FALSE(one.well(one.now * ms));
    CHECK(one.until(10000, true, StandsBy::another_version) ==
          "10.0.0.7 stands by with another version of the show; it would take over by cue numbers: start it "
          "again with what plays here\n");
    CHECK(one.until(15000, true, StandsBy::for_another_player) ==
          "10.0.0.7 stands by for another player, and not for this one; end that one, or have this one tell "
          "another machine\n");
    CHECK(one.line(one.now * ms) == "10.0.0.7 stands by for another player, and not for this one");
    CHECK(one.until(20000, true) == "10.0.0.7 stands by\n");
}

TEST_CASE("a crowd that answers is no crowd of lines", "[unit][standby]") {
    Told one;
    one.told(0);
    one.answers("10.0.0.7", StandsBy::for_this_show, 1);
    CHECK(one.news(1) == "10.0.0.7 stands by");
    unsigned lines = 0;
    for (std::uint64_t t = 1; t < 10000; ++t) {
        one.answers("10.0.0.8", StandsBy::another_show, t * ms);
        one.answers("10.0.0.7", static_cast<StandsBy>(t % 4), t * ms);
        const std::string line = one.news(t * ms);
        lines += line.empty() ? 0 : 1;
        CHECK(line.find("10.0.0.8") == std::string::npos);
    }
    CHECK(lines <= 10);
}
