// What `keep` says on a desk: no fader is set under it, and the sheets say so.
#include <catch2/catch.hpp>

#include "runtime/files.hpp"
#include "tests/support/command.hpp"
#include "tests/support/desk_show.hpp"
#include "tests/support/made_frames.hpp"

using namespace tallow;
using Json = nlohmann::json;

namespace {

const std::string rig = R"(show "s" tallow 1
patch 1/1
    front 1..2  dimmer
    house       dimmer
    par         par-rgb colour at 1/7
)";

std::string hut(const std::string& floor, const std::string& desk) {
    return rig + "safety\n    keep  house above " + floor +
           "\ncue 1  fade 2s\n    house  70%\n    front  50%\ncue 2  fade 2s\n    house  out\ndesk d\n" +
           desk;
}

std::string notes(const test::DeskShow& show, const char* sheet) {
    std::string all;
    for (const Json& note : show.json.at("notes").at(sheet)) all += note.get<std::string>() + "\n";
    return all;
}

constexpr const char* scenes = "    layout l  12 channels  2 scenes\n";
constexpr const char* submasters = "    layout l  12 channels  4 submasters\n";

}  // namespace

TEST_CASE("presets hold a floor, and say so", "[unit][desk]") {
    const auto show = test::desk_show(hut("30%", scenes));
    const Json& rows = show.table("presets");
    CHECK(rows[0].at("3") == 70);
    CHECK(rows[1].at("3") == 30);
    CHECK(rows[1].at("moved") == "1-3");
    CHECK(show.table("fidelity")[1].at("level_off") == 0);
    for (const char* sheet : {"presets", "operator"})
        CHECK(notes(show, sheet).find("KEEP: channel 3 never under 30%. ") != std::string::npos);
    const auto free = test::desk_show(hut("out", scenes));
    CHECK(free.table("presets")[1].at("3") == 0);
    CHECK(notes(free, "presets").find("KEEP") == std::string::npos);
}

TEST_CASE("no setting goes under a floor between two notches", "[unit][desk]") {
    const auto show = test::desk_show(hut("31%", std::string(scenes) + "    notch  5%\n"));
    CHECK(show.table("presets")[1].at("3") == 35);
    CHECK(show.table("fidelity")[1].at("level_off") == 4);
    const auto recorded = test::desk_show(hut("31%", std::string(submasters) + "    notch  5%\n"));
    CHECK(test::losses(recorded, "keep").empty());
    CHECK(recorded.table("run")[1].at("off").get<double>() <= 4);
}

TEST_CASE("recordings hold a floor, and too few are told", "[unit][desk]") {
    const auto show = test::desk_show(hut("30%", submasters));
    CHECK(notes(show, "recordings").find("KEEP: channel 3 never under 30%. ") != std::string::npos);
    CHECK(test::losses(show, "keep").empty());
    CHECK(show.table("run")[1].at("off") == 0);
    const auto few = test::desk_show(hut("30%", "    layout l  12 channels  1 submaster\n") +
                                     "cue 3  fade 2s\n    front  out\ncue 4 fade 2s\n    front 1 full\n");
    CHECK(few.table("fit")[0].at("fits") == "no");
    CHECK(test::losses(few, "keep", test::WithCue::yes) ==
          std::vector<std::string>{"3: channel 3 should never be under the level that `keep` says, and is"});
}

TEST_CASE("a floor under a virtual intensity, a wave and a chase of the desk", "[unit][desk]") {
    const std::string show = rig + R"(safety
    keep   par, house  above 40%
wave swell  sine  period 4s
    intensity  out .. full
cue 1
    par    #ff0000 out
    house  full  wave swell
desk d
    layout l  12 channels  2 scenes
)";
    const auto still = test::desk_show(show);
    CHECK(still.table("presets")[0].at("7").get<double>() == Approx(40).margin(1));
    CHECK(notes(still, "presets")
              .find("channel 3 never under 40%; channels 7-9 never under 40% of their "
                    "colour.") != std::string::npos);
    CHECK(test::losses(still, "wave") ==
          std::vector<std::string>{"wave `swell` stands still at the middle of its range on channel 3; it "
                                   "would move levels by up to 50%"});
    const auto moves = test::desk_show(show + "    chases  1 each 12 steps\n");
    double least = 100;
    for (const Json& row : moves.table("looks")) least = std::min(least, row.at("level").get<double>());
    CHECK(least == 40);
}

TEST_CASE("the cue list and the picture of a cue name the floor that holds a level", "[unit][cues]") {
    const std::string path = test::scratch("keep.tallow");
    REQUIRE(runtime::write_file(path, hut("30%", scenes)).ok());
    const auto run = [&](const std::string& command, const std::string& more = "") {
        return test::run(test::quoted(TALLOW_COMMAND) + " " + command + " " + test::quoted(path) + more).out;
    };
    CHECK(run("cues").find("house  out, never under 30%") != std::string::npos);
    CHECK(run("cues").find("house  70%\n") != std::string::npos);
    const std::string state = run("state", " --cue 2");
    CHECK(state.find("house\n    out, never under 30%") != std::string::npos);
    CHECK(state.find("3 lit, 1 dark") != std::string::npos);
    CHECK(run("check").find("    since cue 1: front 1..2 50%\n    kept always: house 30%\n") !=
          std::string::npos);
}
