#include "compiler/command/rendering.hpp"

#include <catch2/catch.hpp>
#include <cstdlib>

#include "runtime/roll/roll_io.hpp"
#include "tests/support/simple_roll.hpp"

using namespace tallow;
using namespace tallow::runtime;
using namespace tallow::test;
using command::RenderPlan;

namespace {

// Three cues of a second each, the second one following the first half a second later; another list of one.
Roll show() {
    Roll roll = rig({Kind::intensity});
    const Timing second{0, 1000, 1000, Curve::linear};
    for (const Level level : {Level{10000}, Level{20000}, Level{30000}}) add_cue(roll, second, {{0, level}});
    roll.cues[0].next = Next::follow;
    roll.cues[0].next_ms = 500;
    add_list(roll, "side");
    add_cue(roll, second, {{0, full}});
    roll.submasters.resize(1);
    roll.submasters[0].runs = {{0, {50000}, {}}};
    return roll;
}

struct Rendered {
    std::vector<int> values;                                   // of the lamp, frame by frame
    std::vector<std::pair<std::uint32_t, std::size_t>> marks;  // cue, frame
    std::vector<std::string> said;
};

Rendered rendered(const Roll& roll, const RenderPlan& plan) {
    REQUIRE(validate(roll).why() == "");
    Rendered out;
    const command::FrameSink sink{[&](std::uint32_t cue) { out.marks.emplace_back(cue, out.values.size()); },
                                  [&](std::span<const std::uint8_t> slots) {
                                      out.values.push_back(slots[0] * 256 + slots[1]);
                                      return Status();
                                  }};
    CHECK(render(roll, plan, sink, out.said).why() == "");
    return out;
}

Script script(const Roll& roll, const ScriptText& text) {
    auto read = read_script(text, roll);
    REQUIRE(read.why() == "");
    return *read;
}

}  // namespace

TEST_CASE("by hold, each manual cue starts so long after the one before it is complete", "[unit][render]") {
    Roll roll = show();
    const std::vector<TimedCommand> due{{0, {}}, {5500, {}}};  // 1 s, 0.5 s, 1 s, and 3 s of hold
    CHECK(command::go_by_hold(roll, 3000) == due);
    roll.cues[0].next = Next::next_at;
    CHECK(command::go_by_hold(roll, 3000) == std::vector<TimedCommand>{{0, {}}, {4500, {}}});
    roll.cues[0].next = Next::go;
    CHECK(command::go_by_hold(roll, 0) == std::vector<TimedCommand>{{0, {}}, {1000, {}}, {2000, {}}});
}

TEST_CASE("a script plays the main list when it has a command or timecode for it", "[unit][render]") {
    Roll roll = show();
    const auto plays = [&](const ScriptText& text) { return command::plays_main(script(roll, text), roll); };
    CHECK_FALSE(plays({}));
    CHECK_FALSE(plays({"", "1s go side, 2s submaster 1 full, 3s grand out, 4s stop side", ""}));
    CHECK(plays({"1s", "", ""}));
    CHECK(plays({"", "1s back main", ""}));
    CHECK(plays({"", "1s stop", ""}));
    roll.cues[3].timecode = 0;
    CHECK_FALSE(plays({"", "", "00:00:00:00"}));
    roll.cues[2].timecode = 0;
    CHECK(plays({"", "", "00:00:00:00"}));
    CHECK_FALSE(plays({"", "1s go side", ""}));
}

TEST_CASE("frames are made until all is complete and has stood for the hold", "[unit][render]") {
    const Roll roll = show();
    const auto out = rendered(roll, {script(roll, {"1s", "", ""}), 2000, {}});
    // GO at 1 s, the second cue at 2.5 s, complete at 3.5 s, held until 5.5 s and its own frame.
    CHECK(out.values.size() == 5 * 40 + 20 + 1);
    CHECK(out.values[40 + 20] == 5000);
    CHECK(out.values[100 + 20] == 15000);
    CHECK(out.marks == std::vector<std::pair<std::uint32_t, std::size_t>>{{1000, 40}, {2000, 100}});
    CHECK(rendered(roll, {script(roll, {"1s", "", ""}), 2000, 3000}).values.size() == 120);
}

TEST_CASE("a script's commands come at their exact times, and the last one holds the end off",
          "[unit][render]") {
    const Roll roll = show();
    const auto out = rendered(
        roll,
        {script(roll, {"", "10ms go side, 3s back side, 4s submaster 1 50%, 5s grand out", ""}), 0, {}});
    CHECK(std::abs(out.values[20] - 32112) <= 1);  // 490 ms: 65535 · 0.49 = 32112.15
    CHECK(out.values[4 * 40] == full);
    CHECK(out.values[5 * 40] == 0);
    CHECK(out.values.size() == 5 * 40 + 1);
    CHECK(out.marks.empty());  // the main list played nothing
    CHECK(out.said == std::vector<std::string>{"at 3s: this is the first cue of side"});
}
