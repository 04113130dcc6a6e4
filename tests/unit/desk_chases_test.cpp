// Which waves and chases a desk's own chases are spent on, and what is dark in the show.
#include <catch2/catch.hpp>

#include "tests/support/desk_show.hpp"

using namespace tallow;
using Json = nlohmann::json;
using Words = std::vector<std::string>;

namespace {

const std::string wide = R"(show "s" tallow 1
patch 1/1
    front 1..6   dimmer
    strip 1..2   strip-8 at 1/20
wave ripple  sine  period 4s
    red  10% .. full
chase run  every 500ms  loop
    step 1  front 1..3  full
    step 2  front 4..6  full
cue 1  fade 2s
    strip cells  #ff0000 full  wave ripple
cue 2  fade 2s
    chase run
desk d
)";

const std::string knees = R"(show "s" tallow 1
type cube
    mode  rgbd  red green blue intensity
patch 1/1
    knee 1..2  dimmer
    par        cube
chase knees  every 500ms  loop
    step 1  knee 1  full
    step 2  knee 2  full
    step 3  par     #ff4060 80%
cue 7  fade 2s
    par     #ff4060 50%
cue 8  fade 2s
    par     out
    chase   knees
cue 8.5  fade 4s  colour 7s
    par     #40ff60 50%
    chase   knees off
desk d
    layout l  12 channels  2 scenes
)";

}  // namespace

TEST_CASE("a desk's chases go to what it has faders for", "[unit][desk]") {
    const auto show =
        test::desk_show(wide + "    layout l  12 channels  2 scenes\n    chases  1 each 10 steps\n");
    REQUIRE(show.table("chases").size() == 1);
    CHECK(show.table("chases")[0].at("waves") == "chase run");
    CHECK(show.table("chases")[0].at("cues") == "2");
    for (const Json& row : show.table("looks")) CHECK(row.at("channel").get<int>() <= 6);
    CHECK(test::losses(show, "steps").empty());
    CHECK(test::losses(show, "wave", test::WithCue::yes)[0].find(
              "1: wave `ripple` is not seen on channels 20") == 0);
    CHECK(test::losses(show, "outside")[0].find("no fader in this layout") != std::string::npos);
    CHECK(show.table("fit")[0].at("fits") == "no");
    CHECK(show.table("fidelity")[0].at("waves") == "ripple is not seen past the last fader");
}

TEST_CASE("each layout has chases for its own faders", "[unit][desk]") {
    const std::string two =
        wide +
        "    layout small  12 channels  2 scenes\n    layout large  80 channels  2 scenes\n"
        "    chases  1 each 10 steps\n";
    CHECK(test::desk_show(two, "small").table("chases")[0].at("waves") == "chase run");
    CHECK(test::desk_show(two, "large").table("chases")[0].at("waves") == "ripple");
    const auto show = test::desk_show(two);
    CHECK(show.table("fit")[0].at("lost").get<int>() > 0);
    CHECK(show.table("fit")[1].at("lost") == 0);
    CHECK(show.table("fit")[1].at("best") == "*");
}

TEST_CASE("what a chase lights beyond the faders is lost", "[unit][desk]") {
    const auto show = test::desk_show(R"(show "s" tallow 1
patch 1/1
    front 1..2  dimmer
    far         dimmer at 1/30
chase run  every 500ms  loop
    step 1  front  full
    step 2  far    full
cue 1
    chase run
desk d
    layout l  12 channels  2 scenes
)");
    CHECK(show.table("fit")[0].at("lost") == 1);
    CHECK(test::losses(show, "outside") == Words{"channel 30: no fader in this layout, stays dark"});
    CHECK(test::losses(show, "chase") == Words{"chase `run` stands still at its first step on channels 1-2",
                                               "chase `run` is not seen on channel 30: this layout has no "
                                               "fader there"});
}

TEST_CASE("channels that move in several ways are listed once", "[unit][desk]") {
    const std::string show = R"(show "s" tallow 1
patch 1/1
    par 1..4  par-rgb colour
chase run  every 500ms
    step 1  par 1, 3  #ff4060 full
    step 2  par 2, 4  #ff4060 full
cue 1
    chase run
desk d
    layout l  12 channels  2 scenes
)";
    CHECK(test::losses(test::desk_show(show), "chase") ==
          Words{"chase `run` stands still at its first step on channels 1-12"});
    CHECK(test::losses(test::desk_show(show + "    chases  1 each 10 steps\n"), "steps") ==
          Words{"`chase run` on channels 1-12: it does not repeat, so it is no chase"});
}

TEST_CASE("what a chase lights is not dark", "[unit][desk]") {
    const auto show = test::desk_show(knees);
    CHECK(test::losses(show, "dark", test::WithCue::yes) ==
          Words{"7: channels 3-5 should move at once while dark; on the desk the crossfade shows the move"});
    CHECK(test::losses(show, "time", test::WithCue::yes) ==
          Words{"8.5: colour should take 7s and goes with the crossfade in 4s"});
}

TEST_CASE("what has a floor is never dark, and fades to no less", "[unit][desk]") {
    const std::string show = R"(show "s" tallow 1
type cube
    mode   rgbd  red green blue intensity
patch 1/1
    par    cube
    lamp   dimmer
safety
    keep   par, lamp  above 20%
cue 1  fade 2s
    par    #ff4060
    lamp   10%  fade 9s
desk d
    layout l  12 channels  2 scenes
)";
    CHECK(test::losses(test::desk_show(show), "dark").empty());
    CHECK(test::losses(test::desk_show(show), "time").empty());  // 10% is no change of what is seen
}
