#include "runtime/play/script.hpp"

#include <catch2/catch.hpp>

#include "runtime/play/performance.hpp"
#include "tests/support/simple_roll.hpp"

using namespace tallow;
using namespace tallow::runtime;
using namespace tallow::test;

namespace {

Roll coded() {
    Roll roll = rig({Kind::intensity});
    add_cue(roll, {0, 1000, 1000, Curve::linear}, {{0, full}});
    add_cue(roll, {}, {{0, 0}}).timecode = 107892;  // 01:00:00;00
    roll.timecode_rate = TimecodeRate::drop;
    return roll;
}

}  // namespace

TEST_CASE("a script is what its options say together", "[unit][script]") {
    const auto script = read_script({"3s,1s", "2s back", "00:59:59;29"}, coded());
    REQUIRE(script.why() == "");
    REQUIRE(script->commands.size() == 3);
    CHECK(script->commands[0] == TimedCommand{1000, {}});
    CHECK(script->commands[1] == TimedCommand{2000, {Command::What::back}});
    CHECK(script->commands[2] == TimedCommand{3000, {}});
    CHECK(script->timecode == 107891u);
    const auto nothing = read_script({}, coded());
    CHECK(nothing->commands.empty());
    CHECK_FALSE(nothing->timecode);
}

TEST_CASE("a fault in a script names the option", "[unit][script]") {
    CHECK_THAT(read_script({"1", "", ""}, coded()).why(), Catch::StartsWith("--go: `1` is not a time"));
    CHECK_THAT(read_script({"", "1s jump", ""}, coded()).why(), Catch::StartsWith("--do: `jump` is no"));
    CHECK_THAT(read_script({"", "", "00:01:00;00"}, coded()).why(), Catch::StartsWith("--timecode: `00:01"));
}

TEST_CASE("a performance gives each command of its script at its exact time", "[unit][script]") {
    const Roll roll = coded();
    Performance performance(roll, *read_script({"500ms", "510ms go", ""}, roll));
    const Tick ms = 40;
    performance.advance(0);
    CHECK_FALSE(performance.at_rest(0));
    performance.advance(501 * ms);
    CHECK(value(performance.engine(), 0) == 66);  // a thousandth of the way
    CHECK(performance.engine().current() == 0u);
    CHECK_FALSE(performance.at_rest(501 * ms));
    performance.advance(520 * ms);
    CHECK(performance.engine().current() == 1u);
    CHECK(performance.at_rest(510 * ms));
    CHECK_FALSE(performance.at_rest(509 * ms));
}

TEST_CASE("a performance starts the timecode where it is said to stand", "[unit][script]") {
    const Roll roll = coded();
    Performance performance(roll, *read_script({"", "5s go", "00:59:59;28"}, roll));
    // Two frames of 1001/30000 s are 66.7 ms, 2669.3 ticks.
    performance.advance(2668);
    CHECK_FALSE(performance.engine().current());
    performance.advance(2670);
    CHECK(performance.engine().current() == 1u);
    performance.advance(6 * 40000);
    REQUIRE(performance.events().size() == 1);
    CHECK(describe(performance.events()[0], roll) == "that was the last cue");
    CHECK(performance.events()[0].at == 5 * 40000);
}
