#include "runtime/play/script.hpp"

#include <catch2/catch.hpp>

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
    CHECK(script->commands[1] == TimedCommand{2000, {Command::What::back, none, 0}});
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

TEST_CASE("a prompter gives each command at its exact time", "[unit][script]") {
    Playing play(coded());
    Prompter prompter(play.roll, *read_script({"500ms", "510ms go", ""}, play.roll));
    std::vector<std::string> said;
    const Tick ms = 40;
    CHECK_FALSE(prompter.done(1000 * ms));
    prompter.prompt(play.engine, 0, said);
    play.engine.advance(0);
    prompter.prompt(play.engine, 501 * ms, said);
    CHECK(play.at(501 * ms) == 66);  // a thousandth of the way
    CHECK(play.engine.current() == 0u);
    CHECK_FALSE(prompter.done(501 * ms));
    prompter.prompt(play.engine, 520 * ms, said);
    CHECK(play.engine.current() == 1u);
    CHECK(prompter.done(510 * ms));
    CHECK_FALSE(prompter.done(509 * ms));
    CHECK(said.empty());
}

TEST_CASE("a prompter starts the timecode where it is said to stand", "[unit][script]") {
    Playing play(coded());
    Prompter prompter(play.roll, *read_script({"", "5s go", "00:59:59;28"}, play.roll));
    std::vector<std::string> said;
    // Two frames of 1001/30000 s are 66.7 ms, 2669.3 ticks.
    prompter.prompt(play.engine, 0, said);
    play.engine.advance(2668);
    CHECK_FALSE(play.engine.current());
    play.engine.advance(2670);
    CHECK(play.engine.current() == 1u);
    prompter.prompt(play.engine, 5 * 40000, said);
    CHECK(said == std::vector<std::string>{"at 5s: that was the last cue"});
}
