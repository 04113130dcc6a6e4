#include "runtime/play/command.hpp"

#include <catch2/catch.hpp>

#include "runtime/play/performance.hpp"
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

namespace {

Command a(What what, std::uint32_t index = none) {
    Command command;
    command.what = what;
    command.index = index;
    return command;
}
Command level(What what, std::uint32_t index, Level level) {
    Command command = a(what, index);
    command.level = level;
    return command;
}
Command stop(std::uint32_t list, std::uint64_t ms) {
    Command command = a(What::stop, list);
    command.ms = ms;
    return command;
}
Command cue(std::uint32_t list, std::uint32_t index) {
    Command command = a(What::go_to, list);
    command.cue = index;
    return command;
}
Command to(What what, Command::Switch position) {
    Command command = a(what);
    command.to = position;
    return command;
}
Command code(Tick ticks) {
    Command command = a(What::timecode);
    command.code = ticks;
    return command;
}

}  // namespace

TEST_CASE("commands are read word by word", "[unit][command]") {
    const auto [text, command] = GENERATE(table<const char*, Command>({
        {"go", a(What::go)},
        {"  go\tmain ", a(What::go, 0)},
        {"back side", a(What::back, 1)},
        {"cue 2", cue(none, 1)},
        {"cue 3.000 side", cue(1, 2)},
        {"cue 4 side", cue(1, 3)},
        {"hold", a(What::hold)},
        {"hold side", a(What::hold, 1)},
        {"stop", stop(none, stop_ms)},
        {"stop 2.5s", stop(none, 2500)},
        {"stop side", stop(1, stop_ms)},
        {"stop 10s side", stop(1, 10000)},
        {"stop  side 1min", stop(1, 60000)},
        {"pause", a(What::pause)},
        {"resume", a(What::resume)},
        {"submaster 1 60%", level(What::submaster, 0, 39321)},
        {"submaster 7 full", level(What::submaster, 1, full)},
        {"grand out", level(What::grand, none, 0)},
        {"grand 62.5%", level(What::grand, none, 40959)},  // 40959.375
        {"grand 0.001%", level(What::grand, none, 1)},
        {"grand 100%", level(What::grand, none, full)},
        {"blackout", to(What::blackout, Command::Switch::over)},
        {"blackout on", to(What::blackout, Command::Switch::on)},
        {"panic off", to(What::panic, Command::Switch::off)},
        {"timecode 00:00:02:05", code(2 * 40000 + 8000)},  // 25 a second, 40 frames of 1000 ticks
        {"timecode off", a(What::timecode_off)},
        {"timecode on", a(What::timecode_on)},
        {"GO", a(What::go)},
        {"Back side", a(What::back, 1)},
        {"CUE 2", cue(none, 1)},
        {"sUbmaster 1 FULL", level(What::submaster, 0, full)},
        {"Grand Out", level(What::grand, none, 0)},
        {"BLACKOUT ON", to(What::blackout, Command::Switch::on)},
        {"Panic Off", to(What::panic, Command::Switch::off)},
        {"TimeCode OFF", a(What::timecode_off)},
    }));
    INFO(text);
    const auto read = parse_command(text, two_lists());
    REQUIRE(read.why() == "");
    CHECK(*read == command);
}

TEST_CASE("what is no command is answered with what there is", "[unit][command]") {
    CHECK(refusal("faster") ==
          "`faster` is no command; there are `go`, `back`, `cue 5`, `hold` and `stop`, each alone or with a "
          "cue list, `pause`, `resume`, `submaster 1 60%`, `grand 50%`, `blackout`, `panic` and `timecode "
          "00:00:00:00`; `quit` alone ends a player");
    CHECK(refusal("go sode") == "there is no cue list `sode`; there is `main`, `side`");
    CHECK(refusal("go SIDE") == "there is no cue list `SIDE`; there is `main`, `side`");
    CHECK(refusal("quit now") == "`quit` stands alone, at a player's input; a script ends by `--until 2s`");
    CHECK_THAT(refusal("GONE"), Catch::StartsWith("`GONE` is no command"));
    CHECK(refusal("cue") == "the cue number is missing; write one like `5` or `12.5`");
    CHECK(refusal("grand") == "the level is missing; write one like `60%`, or `full`, or `out`");
    CHECK(refusal("submaster 1") == "the level is missing; write one like `60%`, or `full`, or `out`");
    CHECK(refusal("submaster") == "the submaster's number is missing; there is 1, 7");
    CHECK(refusal("timecode") == "the label is missing; write one like `01:00:00:00`, or `off` or `on`");
    CHECK(refusal("go 5") == "there is no cue list `5`; there is `main`, `side`; `cue 5` goes to a cue");
    CHECK(refusal("cue 1.0001") == "`1.0001` is no cue number; write one like `5` or `12.5`");
    CHECK(refusal("cue 4294968") == "`4294968` is no cue number; write one like `5` or `12.5`");
    CHECK(refusal("cue 1.5") == "there is no cue 1.5 in `main`; beside it: 1 and 2");
    CHECK(refusal("cue 0.5 side") == "there is no cue 0.5 in `side`; beside it: 3");
    CHECK(refusal("cue 9") == "there is no cue 9 in `main`; beside it: 2");
    CHECK(refusal("submaster 2 60%") == "there is no submaster `2`; there is 1, 7");
    CHECK(refusal("submaster one full") == "there is no submaster `one`; there is 1, 7");
    CHECK(refusal("go side now") == "`now` is too much in `go side now`; leave it away");
    CHECK(refusal("blackout maybe") == "`maybe` is neither `on` nor `off`");
    CHECK(refusal("stop 3s 4s") == "`4s` is too much in `stop 3s 4s`; leave it away");
    CHECK(refusal("stop side 3s side") == "`side` is too much in `stop side 3s side`; leave it away");
    CHECK(refusal("stop 3s sode") == "there is no cue list `sode`; there is `main`, `side`");
    CHECK_THAT(refusal("stop 5"), Catch::StartsWith("`5` is not a time"));
    CHECK_THAT(refusal("timecode 25:00:00:00"), Catch::Contains("25:00:00:00"));
    for (const char* text : {"60", "101%", "100.001%", "-5%", "6.%", ".5%", "1.0001%", "%", "1e1%"})
        CHECK_THAT(refusal(std::string("grand ") + text),
                   Catch::StartsWith(std::string("`").append(text) +
                                     "` is no level; write one like `60%`, or `full`, or `out`"));
    Roll bare = two_lists();
    bare.submasters.clear();
    CHECK(parse_command("submaster 1 full", bare).why() == "there is no submaster `1`; the show has none");
}

TEST_CASE("commands with times come in the order of the times", "[unit][command]") {
    const auto read = parse_commands("5s go side, 2s go,1min30s grand 50%, 2s back", two_lists());
    REQUIRE(read.why() == "");
    const std::vector<TimedCommand> due{{2000, a(What::go)},
                                        {2000, a(What::back)},
                                        {5000, a(What::go, 1)},
                                        {90000, level(What::grand, none, 32768)}};
    CHECK(*read == due);
    CHECK_THAT(parse_commands("5 go", two_lists()).why(), Catch::Contains("`5` is not a time"));
    const auto why = [](std::string_view text) { return parse_commands(text, two_lists()).why(); };
    CHECK(why("2s go, 5s ") == "`5s` is a time without a command; write one behind it, like `5s go`");
    CHECK(why("1s  go main extra , 2s go") == "`extra` is too much in `go main extra`; leave it away");
    CHECK(why(" go 5s ,2s go") == "`go 5s` does not begin with its time; write it like `2s go`");
    for (const char* const text : {"", " ", "5s go,", ",5s go", "5s go, ,6s go"})
        CHECK(why(text) == "a command is missing; write one like `2s go`, with a comma between two");
}

TEST_CASE("a performance obeys, and the operator hears where it cannot", "[unit][command]") {
    Roll roll = two_lists();
    roll.cues[2].next = Next::next_at;
    roll.cues[2].next_ms = 1000;
    roll.submasters[1].runs = {{0, {60000}, {}}};
    roll.submasters[1].label = "Front";
    Performance play(roll, {});
    const auto obeyed = [&](std::string_view text, Tick t) {
        Command command = *parse_command(text, roll);
        command.wants_answer = true;
        play.obey(command, t);
        return describe(play.events().back(), roll);
    };
    const auto shown = [&](Tick t) {
        play.advance(t);
        return value(play.engine(), 0);
    };
    CHECK(obeyed("back", 0) == "this is the first cue of main");
    CHECK(obeyed("go", 0) == "");
    CHECK(obeyed("go side", 0) == "");
    CHECK(shown(0) == 30000);
    CHECK(obeyed("hold main", 0) == "held: nothing of main starts by itself but by timecode; `go` goes on");
    CHECK(play.engine().next_start(1));
    CHECK(obeyed("hold side", 0) == "held: nothing of side starts by itself but by timecode; `go` goes on");
    CHECK_FALSE(play.engine().next_start(1));
    CHECK(obeyed("back side", 0) == "this is the first cue of side");
    CHECK(obeyed("go side", 50000) == "");
    CHECK(obeyed("go side", 50000) == "that was the last cue of side");
    CHECK(obeyed("back side", 50000) == "");
    CHECK(shown(50000) == 30000);
    CHECK(obeyed("submaster 7 full", 50000) == "submaster 7 \"Front\" at 100%");
    CHECK(obeyed("submaster 1 62.5%", 50000) == "submaster 1 at 62.5%");
    CHECK(obeyed("submaster 1 out", 50000) == "submaster 1 at 0%");
    CHECK(obeyed("grand 50%", 50000) == "grand master at 50%");
    CHECK(obeyed("timecode 01:02:03:04", 50000) == "timecode runs on from 01:02:03:04");
    CHECK(obeyed("timecode off", 50000) ==
          "timecode is off: no cue starts by it until `timecode on`, or a label");
    CHECK(obeyed("timecode on", 50000) == "timecode is on: the show goes by what comes from outside");
    CHECK(obeyed("pause", 50000) == "paused: all stands still; `resume` or `go` goes on");
    CHECK(obeyed("timecode 01:02:03:04", 50000) == "timecode stands at 01:02:03:04 until the pause ends");
    CHECK(obeyed("resume", 50000) == "goes on");
    CHECK(shown(50000) == 30000);
    CHECK(obeyed("hold", 50000) == "held: nothing starts by itself; `go` goes on");
    CHECK(obeyed("resume", 50000) == "it is not paused");
    CHECK(obeyed("stop side 1s", 50000) ==
          "stopped: all of side fades out in 1s; `go` goes on with the next cue");
}

TEST_CASE("levels and timecode that nobody waits to hear of are not told", "[unit][command]") {
    const Roll roll = two_lists();
    for (const char* text : {"submaster 1 full", "grand 50%", "timecode 01:02:03:04", "timecode off"}) {
        CAPTURE(text);
        Event event{Event::What::answer, 0, none, *parse_command(text, roll), Answer::done};
        CHECK(describe(event, roll) == "");
        event.command.wants_answer = true;
        CHECK(describe(event, roll) != "");
    }
    CHECK(describe({Event::What::answer, 0, none, a(What::hold), Answer::done}, roll) != "");
}

TEST_CASE("every level that can be said is read back to the tenth", "[unit][command]") {
    for (std::uint32_t tenths = 0; tenths <= 1000; ++tenths) {
        const std::string words =
            std::to_string(tenths / 10) + (tenths % 10 == 0 ? "" : "." + std::to_string(tenths % 10)) + "%";
        REQUIRE(level_words(parse_command("grand " + words, two_lists())->level) == words);
    }
}

TEST_CASE("the present cues are named with their lists", "[unit][command]") {
    Roll roll = two_lists();
    roll.cues[1].label = "Storm";
    Standing show;
    show.lists.resize(2);
    CHECK(present_cues(show, roll) == "before the first cue");
    show.lists[0].current = 1;
    CHECK(present_cues(show, roll) == "in main cue 2 \"Storm\"");
    show.lists[1].current = 2;
    CHECK(present_cues(show, roll) == "in main cue 2 \"Storm\", side cue 3");
    show.lists[0].stopped = 7;
    CHECK(present_cues(show, roll) == "in main cue 2 \"Storm\" (stopped), side cue 3");
    roll.lists.resize(1);
    show.lists.resize(1);
    CHECK(present_cues(show, roll) == "in cue 2 \"Storm\" (stopped)");
    show.lists[0].stopped = {};
    CHECK(present_cues(show, roll) == "in cue 2 \"Storm\"");
}

TEST_CASE("what hands hold is named behind the cues", "[unit][command]") {
    Roll roll = two_lists();
    roll.lists.resize(1);
    roll.submasters.resize(2);
    roll.submasters[0].number = 3;
    roll.submasters[1].number = 4;
    roll.submasters[1].label = "Fog";
    Standing show;
    show.lists.resize(1);
    show.lists[0].current = 1;
    show.submasters.resize(2);
    CHECK(how_it_stands(show, roll) == "in cue 2");
    show.submasters[1] = full;
    CHECK(how_it_stands(show, roll) == "in cue 2, with submaster 4 \"Fog\" at 100%");
    show.blackout = show.panic = true;
    show.master = 0;
    CHECK(how_it_stands(show, roll) ==
          "in cue 2, with blackout, the panic look, grand master at 0%, submaster 4 \"Fog\" at 100%");
}

TEST_CASE("hold and stop alone are of every list and of the timecode", "[unit][command]") {
    Roll roll = two_lists();
    for (const std::uint32_t first : {0u, 2u}) {
        roll.cues[first].next = Next::next_at;
        roll.cues[first].next_ms = 1000;
        roll.cues[first + 1].timecode = 50;
    }
    Performance play(roll, *read_script({"", "0s go, 0s go side", "00:00:00:00"}, roll));
    play.advance(0);
    CHECK_FALSE(play.at_rest(0));
    play.obey(a(GENERATE(What::hold, What::stop)), 0);
    play.advance(0);
    CHECK(play.at_rest(0));
}
