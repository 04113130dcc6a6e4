#include "runtime/play/command.hpp"

#include <catch2/catch.hpp>

#include "tests/support/simple_roll.hpp"

using namespace tallow;
using namespace tallow::runtime;
using namespace tallow::test;
using What = Command::What;

namespace {

// Two lists of two cues each, and submasters 1 and 7.
Roll two_lists() {
    Roll roll = rig({Kind::intensity});
    for (const Level level : {Level{10000}, Level{20000}}) add_cue(roll, {}, {{0, level}});
    add_list(roll, "side");
    for (const Level level : {Level{30000}, Level{40000}}) add_cue(roll, {}, {{0, level}});
    roll.submasters.resize(2);
    roll.submasters[1].number = 7;
    return roll;
}

std::string refusal(std::string_view text) {
    return parse_command(text, two_lists()).why();
}

}  // namespace

TEST_CASE("commands are read word by word", "[unit][command]") {
    const auto [text, command] = GENERATE(table<const char*, Command>({
        {"go", {What::go, none, 0}},
        {"  go\tmain ", {What::go, 0, 0}},
        {"back side", {What::back, 1, 0}},
        {"stop", {What::stop, none, 0}},
        {"submaster 1 60%", {What::submaster, 0, 39321}},
        {"submaster 7 full", {What::submaster, 1, full}},
        {"master out", {What::master, none, 0}},
        {"master 62.5%", {What::master, none, 40959}},  // 40959.375
        {"master 0.001%", {What::master, none, 1}},
        {"master 100%", {What::master, none, full}},
    }));
    const auto read = parse_command(text, two_lists());
    REQUIRE(read.why() == "");
    CHECK(*read == command);
}

TEST_CASE("what is no command is answered with what there is", "[unit][command]") {
    CHECK(refusal("faster") ==
          "`faster` is no command; there are `go`, `back` and `stop`, alone or with a cue "
          "list, `submaster 1 60%` and `master 50%`");
    CHECK(refusal("go sode") == "there is no cue list `sode`; there is `main`, `side`");
    CHECK(refusal("submaster 2 60%") == "there is no submaster `2`; there is 1, 7");
    CHECK(refusal("submaster one full") == "there is no submaster `one`; there is 1, 7");
    CHECK(refusal("go side now") == "`now` is too much in `go side now`; leave it away");
    for (const char* level : {"60", "101%", "100.001%", "-5%", "6.%", ".5%", "1.0001%", "%", "", "1e1%"})
        CHECK_THAT(refusal(std::string("master ") + level),
                   Catch::StartsWith(std::string("`").append(level) +
                                     "` is no level; write one like `60%`, or `full`, or `out`"));
    Roll bare = two_lists();
    bare.submasters.clear();
    CHECK(parse_command("submaster 1 full", bare).why() == "there is no submaster `1`; the show has none");
}

TEST_CASE("commands with times come in the order of the times", "[unit][command]") {
    const auto read = parse_commands("5s go side, 2s go,1min30s master 50%, 2s back", two_lists());
    REQUIRE(read.why() == "");
    const std::vector<TimedCommand> due{{2000, {What::go, none, 0}},
                                        {2000, {What::back, none, 0}},
                                        {5000, {What::go, 1, 0}},
                                        {90000, {What::master, none, 32768}}};
    CHECK(*read == due);
    CHECK_THAT(parse_commands("5 go", two_lists()).why(), Catch::Contains("`5` is not a time"));
    CHECK_THAT(parse_commands("5s", two_lists()).why(), Catch::Contains("`` is no command"));
    CHECK_THAT(parse_commands("5s go,", two_lists()).why(), Catch::Contains("`` is not a time"));
}

TEST_CASE("an engine obeys, and the operator hears where it cannot", "[unit][command]") {
    Roll roll = two_lists();
    roll.cues[2].next = Next::next_at;
    roll.cues[2].next_ms = 1000;
    roll.submasters[1].runs = {{0, {60000}, {}}};
    Playing play(roll);
    const auto obeyed = [&](std::string_view text, Tick t) {
        return obey(*parse_command(text, play.roll), play.engine, play.roll, t);
    };
    CHECK(obeyed("back", 0) == "this is the first cue of main");
    CHECK(obeyed("go", 0) == "");
    CHECK(obeyed("go side", 0) == "");
    CHECK(play.at(0) == 30000);
    CHECK(obeyed("stop main", 0) ==
          "stopped: nothing of main starts by itself but by timecode; `go` goes on");
    CHECK(play.engine.next_start(1));
    CHECK(obeyed("stop side", 0) ==
          "stopped: nothing of side starts by itself but by timecode; `go` goes on");
    CHECK_FALSE(play.engine.next_start(1));
    CHECK(obeyed("back side", 0) == "this is the first cue of side");
    CHECK(obeyed("go side", 50000) == "");
    CHECK(obeyed("go side", 50000) == "that was the last cue of side");
    CHECK(obeyed("back side", 50000) == "");
    CHECK(play.at(50000) == 30000);
    CHECK(obeyed("submaster 7 full", 50000) == "");
    CHECK(obeyed("master 50%", 50000) == "");
    CHECK(play.at(50000) == 30000);
    CHECK(obeyed("stop", 50000) == "stopped: nothing starts by itself; `go` goes on");
}

TEST_CASE("stop alone holds every list and the timecode", "[unit][command]") {
    Roll roll = two_lists();
    for (const std::uint32_t first : {0u, 2u}) {
        roll.cues[first].next = Next::next_at;
        roll.cues[first].next_ms = 1000;
        roll.cues[first + 1].timecode = 50;
    }
    Playing play(roll);
    play.engine.go(0, 0);
    play.engine.go(1, 0);
    play.engine.timecode(0, 0);
    CHECK_FALSE(play.engine.at_rest(0));
    obey({What::stop, none, 0}, play.engine, play.roll, 0);
    CHECK(play.engine.at_rest(0));
}
