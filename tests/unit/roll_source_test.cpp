#include <catch2/catch.hpp>

#include "runtime/play/performance.hpp"
#include "runtime/play/source.hpp"

using namespace tallow::runtime;

namespace {

// One 8-bit intensity in slot 1, and a cue for each level, each with a fade of one second.
Roll roll_of(std::initializer_list<Level> levels) {
    Roll roll;
    roll.universes = {{1, 1}};
    Parameters& p = roll.parameters;
    p.key = {"front/1/intensity"};
    p.universe = {0};
    p.coarse = {1};
    p.fine = {0};
    p.home = {0};
    p.kind = {Kind::intensity};
    p.under = {none};
    const Timing second{0, 1000, 1000, Curve::linear};
    for (const Level level : levels) {
        Cue cue;
        cue.number = static_cast<std::uint32_t>(1000 * (roll.cues.size() + 1));
        cue.complete_ms = 1000;
        cue.intensity = cue.colour = cue.position = cue.beam = second;
        cue.sets = {{second, {{0, {level}, {}}}}};
        roll.cues.push_back(cue);
    }
    roll.lists = {{"main", 0, static_cast<std::uint32_t>(roll.cues.size())}};
    return roll;
}

Script go_at(std::initializer_list<std::uint64_t> times) {
    Script script;
    for (const std::uint64_t ms : times) script.commands.push_back({ms, {}});
    return script;
}

int slot(const Source& source) {
    return source.slots()[0][0];
}

using Lines = std::vector<std::string>;

// What was said since the frame before the last one, "" left out.
Lines said(const Source& source) {
    Lines lines;
    for (const Event& event : source.events())
        if (std::string line = source.describe(event); !line.empty()) lines.push_back(std::move(line));
    return lines;
}

void order(Source& source, std::string_view words, Tick t) {
    const auto command = source.read_command(words);
    INFO(command.why());
    REQUIRE(command.ok());
    source.obey(*command, t);
}

}  // namespace

TEST_CASE("a GO that was listed begins at its exact time", "[unit][player]") {
    const Roll roll = roll_of({full, 0});
    const auto source = roll_source(roll, go_at({10, 1010}));  // not on a frame
    for (std::uint64_t n = 0; n <= 90; ++n) {
        source->frame(n);
        const std::uint64_t t = n * 25;
        // 0 up to 10 ms, up in a second, down in a second.
        const double level = t < 10     ? 0
                             : t < 1010 ? static_cast<double>(t - 10) / 1000
                             : t < 2010 ? static_cast<double>(2010 - t) / 1000
                                        : 0;
        CAPTURE(n);
        CHECK(std::abs(slot(*source) - 255 * level) <= 1);
    }
}

TEST_CASE("a command begins its cue at its time, and is answered where it cannot", "[unit][player]") {
    const Roll roll = roll_of({full, 0});
    const auto source = roll_source(roll, {});
    source->frame(0);
    order(*source, "back", 100);
    CHECK(said(*source) == Lines{"this is the first cue"});
    order(*source, "go", 500);  // half a frame on
    source->frame(21);
    CHECK(slot(*source) == 131);  // 512.5 ms into a fade to 255: 130.7
    source->frame(100);
    CHECK(slot(*source) == 255);
    order(*source, "go", 100000);
    order(*source, "go", 100000);
    CHECK(said(*source) == Lines{"that was the last cue"});
    order(*source, "hold", 100000);
    CHECK(said(*source) == Lines{"that was the last cue", "held: nothing starts by itself; `go` goes on"});
    source->frame(200);
    CHECK(slot(*source) == 0);
    order(*source, "back", 200000);
    source->frame(300);
    CHECK(slot(*source) == 255);
    CHECK(source->read_command("gone").why().find("`gone` is no command") == 0);
}

TEST_CASE("a pause holds fades and what is due, and a resume goes on as if no time had passed",
          "[unit][player]") {
    Roll roll = roll_of({full, 0});
    roll.cues[0].next = Next::next_at;
    roll.cues[0].next_ms = 2000;
    const auto source = roll_source(roll, go_at({0}));
    source->frame(20);
    CHECK(slot(*source) == 128);
    order(*source, "pause", 20000);
    source->frame(21);
    CHECK(said(*source) == Lines{"paused: all stands still; `resume` or `go` goes on"});
    order(*source, "pause", 21000);
    CHECK(said(*source).back() == "it is paused already");
    source->frame(500);
    CHECK(slot(*source) == 128);
    CHECK(source->performance()->paused());
    order(*source, "resume", 500000);
    source->frame(510);
    CHECK(slot(*source) == 191);  // 0.75 s into the fade
    source->frame(559);
    CHECK(source->performance()->engine().current() == 0u);
    source->frame(560);  // 2 s by the show's time
    CHECK(source->performance()->engine().current() == 1u);
    order(*source, "pause", 570000);
    order(*source, "go", 900000);  // the last cue: but the pause is over
    CHECK_FALSE(source->performance()->paused());
}

TEST_CASE("a list that is stopped fades out, and its next cue comes as a whole", "[unit][player]") {
    Roll roll = roll_of({full, 30000, 0});
    const auto source = roll_source(roll, go_at({0}));
    source->frame(40);
    order(*source, "stop 2s", 40000);
    source->frame(80);
    CHECK(said(*source) == Lines{"stopped: all fades out in 2s; `go` goes on with the next cue"});
    CHECK(slot(*source) == 128);
    source->frame(120);
    CHECK(slot(*source) == 0);
    order(*source, "go", 200000);
    source->frame(240);
    CHECK(slot(*source) == 117);
    order(*source, "stop", 240000);  // three seconds
    source->frame(300);
    CHECK(slot(*source) == 58);
    order(*source, "back", 400000);
    source->frame(440);
    CHECK(slot(*source) == 117);
    CHECK(source->performance()->engine().current() == 1u);
}

TEST_CASE("blackout leaves the grand master where it is, and a cue is gone to by its number",
          "[unit][player]") {
    const Roll roll = roll_of({full, 0, 30000});
    const auto source = roll_source(roll, {});
    order(*source, "cue 3", 0);
    order(*source, "grand 50%", 0);
    source->frame(40);
    CHECK(slot(*source) == 58);
    order(*source, "blackout", 40000);
    source->frame(41);
    CHECK(slot(*source) == 0);
    order(*source, "blackout on", 41000);
    source->frame(42);
    CHECK(slot(*source) == 0);
    order(*source, "blackout", 42000);
    source->frame(43);
    CHECK(slot(*source) == 58);
    CHECK(source->performance()->engine().current() == 2u);
}

TEST_CASE("a cue is said once, with what comes next and on what", "[unit][player]") {
    Roll roll = roll_of({full, 0, full});
    roll.cues[0].label = "First light";
    roll.cues[1].on = "the ferry's horn";
    roll.cues[1].next = Next::follow;
    const auto source = roll_source(roll, go_at({0}));
    source->frame(0);
    CHECK(said(*source) == Lines{"cue 1 \"First light\"; next 2 on \"the ferry's horn\""});
    source->frame(1);
    CHECK(said(*source).empty());
    order(*source, "go", 2000);
    source->frame(100);  // cue 3 follows meanwhile
    CHECK(said(*source) == Lines{"cue 2; next 3, by itself", "cue 3; the last one"});
    order(*source, "back", 100000);
    source->frame(101);
    CHECK(said(*source) == Lines{"cue 2; next 3, held, waits for GO"});
}

TEST_CASE("where there are several lists a cue is said with its own, and with its timecode",
          "[unit][player]") {
    Roll roll = roll_of({full, 0, full});
    roll.lists = {{"main", 0, 1}, {"side", 1, 2}};
    roll.cues[2].timecode = 90 * 25 + 7;
    const auto source = roll_source(roll, go_at({0}));
    source->frame(0);
    CHECK(said(*source) == Lines{"main cue 1; the last one"});
    order(*source, "go side", 500);
    source->frame(1);
    CHECK(said(*source) == Lines{"side cue 2; next 3 at timecode 00:01:30:07"});
    CHECK(source->read_command("go sode").why() == "there is no cue list `sode`; there is `main`, `side`");
}

TEST_CASE("a roll is at rest when nothing more begins and the last cue is complete", "[unit][player]") {
    Roll roll = roll_of({full, 0});
    roll.cues[0].next = Next::next_at;
    roll.cues[0].next_ms = 2000;
    const auto source = roll_source(roll, go_at({500}));
    CHECK_FALSE(source->at_rest());  // a GO is still listed
    for (const std::uint64_t n : {0, 20, 60, 99, 100, 139}) {
        source->frame(n);
        CHECK_FALSE(source->at_rest());
    }
    source->frame(140);  // GO at 0.5 s, the next at 2.5 s, complete at 3.5 s
    CHECK(source->at_rest());
}
