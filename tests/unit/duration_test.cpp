#include "runtime/duration.hpp"

#include <catch2/catch.hpp>

#include "runtime/limits.hpp"

using namespace tallow::runtime;

namespace {

std::uint64_t ms(std::string_view text) {
    const auto t = parse_duration(text);
    INFO(text << ": " << t.why());
    REQUIRE(t.ok());
    return *t;
}

std::string why(std::string_view text) {
    const auto t = parse_duration(text);
    return t.ok() ? "" : t.why();
}

}  // namespace

TEST_CASE("times are read exactly", "[unit][duration]") {
    CHECK(ms("0s") == 0);
    CHECK(ms("10s") == 10000);
    CHECK(ms("250ms") == 250);
    CHECK(ms("1.5s") == 1500);
    CHECK(ms("0.001s") == 1);
    CHECK(ms("0.0010000000s") == 1);
    CHECK(ms("2min") == 120000);
    CHECK(ms("1min30s") == 90000);
    CHECK(ms("1 min 30 s 5 ms") == 90005);
    CHECK(ms("1.5min") == 90000);
    CHECK(ms("10080min") == limits::time_ms);
}

TEST_CASE("what is no time is refused with the reason", "[unit][duration]") {
    CHECK(why("10") == "`10` is not a time: it has no unit; write it like `10s`, `250ms` or `1min30s`");
    CHECK(why(" ") == "a time is missing; write one like `10s`, `250ms` or `1min30s`");
    CHECK(why("s").find("a number is missing") != std::string::npos);
    CHECK(why("10h").find("its units are `min`, `s`, `ms`") != std::string::npos);
    CHECK(why("30s1min").find("in this order") != std::string::npos);
    CHECK(why("1s2s").find("in this order") != std::string::npos);
    CHECK(why("1.5min30s").find("only its last number may have decimals") != std::string::npos);
    CHECK(why("0.0005s").find("finer than a millisecond") != std::string::npos);
    CHECK(why("0.5ms").find("finer than a millisecond") != std::string::npos);
    CHECK(why("1.00000000001s").find("finer than a millisecond") != std::string::npos);
    CHECK(why("10080min1ms").find("longer than a week") != std::string::npos);
    CHECK(why("99999999999999999999999999s").find("longer than a week") != std::string::npos);
    CHECK(why("1,5s").find("it has no unit") != std::string::npos);
    CHECK(why("-1s").find("a number is missing") != std::string::npos);
    CHECK(why("1..5s") != "");
}

TEST_CASE("times are written as they are read", "[unit][duration]") {
    CHECK(format_duration(0) == "0s");
    CHECK(format_duration(250) == "250ms");
    CHECK(format_duration(1500) == "1.5s");
    CHECK(format_duration(10000) == "10s");
    CHECK(format_duration(90000) == "1min30s");
    CHECK(format_duration(60005) == "1min0.005s");
    CHECK(format_duration(120000) == "2min");
    for (std::uint64_t t = 0; t < 200000; t += 37) REQUIRE(ms(format_duration(t)) == t);
}

TEST_CASE("people read times without needless digits, and long ones in hours", "[unit][duration]") {
    CHECK(rough_duration(0) == "0.0s");
    CHECK(rough_duration(2199) == "2.1s");
    CHECK(rough_duration(59999) == "59.9s");
    CHECK(rough_duration(60000) == "1min 00s");
    CHECK(rough_duration(65999) == "1min 05s");
    CHECK(rough_duration(3599999) == "59min 59s");
    CHECK(rough_duration(3600000) == "1h 00min 00s");
    CHECK(rough_duration(1320ull * 60000 + 5000) == "22h 00min 05s");
}

TEST_CASE("a time since the beginning is hours, minutes and seconds", "[unit][duration]") {
    CHECK(clock_time(0) == "0:00:00");
    CHECK(clock_time(61999) == "0:01:01");
    CHECK(clock_time(1320ull * 60000) == "22:00:00");
    CHECK(clock_time(limits::time_ms) == "168:00:00");
}

TEST_CASE("several times stand between commas", "[unit][duration]") {
    const auto times = parse_durations("0s,10s, 1min30s");
    REQUIRE(times.ok());
    CHECK(*times == std::vector<std::uint64_t>{0, 10000, 90000});
    CHECK_FALSE(parse_durations("0s,,1s").ok());
    CHECK_FALSE(parse_durations("0s,").ok());
}

TEST_CASE("the frames before a time are counted exactly", "[unit][duration]") {
    CHECK(frames_before(0, 40) == 0);
    CHECK(frames_before(25, 40) == 1);
    CHECK(frames_before(26, 40) == 2);
    CHECK(frames_before(1000, 44) == 44);
    CHECK(frames_before(limits::time_ms, 44) == 7ull * 24 * 3600 * 44);
}
