// `tallow fit`: what it prints and writes, and what it says of bad input.
#include <catch2/catch.hpp>
#include <filesystem>
#include <nlohmann/json.hpp>

#include "compiler/syntax/format.hpp"
#include "runtime/files.hpp"
#include "tests/support/command.hpp"
#include "tests/support/fit_show.hpp"
#include "tests/support/made_frames.hpp"
#include "tests/support/slot_reader.hpp"

using namespace tallow;
using Json = nlohmann::json;

namespace {

const std::string rig =
    "patch 1/1\n    front 1..6  dimmer\n    side 1..2  par-rgbw dimmed\n    lamp  dimmer  at 1/20\n";
const std::string cues =
    "palette amber  #ffb000\ncue 1  fade 3s\n    front 1, 3, 6  50%\n    front 2, 4, 5  80%\n    side  amber "
    "40%\n"
    "    lamp  full\n";
const std::string hall =
    "desk hall\n    layout  pair  6 channels  2 scenes\n    layout  wide  24 channels  1 scene\n";

test::Ran run_fit(const std::string& show, const std::string& more = "") {
    const std::string path = test::scratch("fit.tallow");
    REQUIRE(runtime::write_file(path, show).ok());
    return test::run(test::quoted(TALLOW_COMMAND) + " fit " + test::quoted(path) + " --desk hall " + more);
}

Json report(const std::string& show, const std::string& more = "") {
    const test::Ran ran = run_fit(show, "--json " + more + " 2> /dev/null");
    INFO(ran.out);
    REQUIRE(ran.code == 0);
    return Json::parse(ran.out);
}

bool has(const std::string& text, const std::string& part) {
    return text.find(part) != std::string::npos;
}

}  // namespace

// By hand: front 1, 3 and 6 do the same, and front 2, 4 and 5, and both sides: 2 + 5 + 1 slots of 6 + 10 + 1.
TEST_CASE("the ways stand from few channels to many, then what loses something", "[unit][desk][fit]") {
    const Json all = report(rig + cues + hall);
    const Json& ways = all["ways"];
    CHECK(ways[0]["channels"] == 8);
    CHECK(ways[0]["lossless"] == true);
    CHECK(ways[0]["fits"] == Json{"wide"});
    CHECK(ways[1]["channels"] == 17);
    CHECK(ways[1]["what"].empty());
    CHECK(all["chosen"] == 1);
    CHECK(all["channels_over"] == 0);
    for (std::size_t i = 2; i < ways.size(); ++i) {
        CHECK(ways[i]["lossless"] == false);
        CHECK(ways[i]["lost"].size() > 0);
        if (i > 2) CHECK(ways[i]["channels"] <= ways[i - 1]["channels"]);
    }
    // The last one reaches the other layout: 1 + 4 + 1 slots, front at 50 % and 80 % as one.
    CHECK(ways.back()["fits"] == Json{"pair", "wide"});
    CHECK(ways.back()["channels"] == 6);
    CHECK(ways.back()["worst_percent"] == 30);
    CHECK(has(ways.back()["lost"].dump(), "levels off by up to 30.0%, in cue 1"));
}

TEST_CASE("the patch has addresses packed from 1 on, and stand-asides where they were", "[unit][desk][fit]") {
    const Json all = report(rig + cues + hall);
    CHECK(all["patch"] ==
          "patch 1/1\n    front 1     dimmer           ganged\n    front 3     dimmer           ganged  at "
          "1/1\n"
          "    front 6     dimmer           ganged  at 1/1\n    front 2     dimmer           ganged\n"
          "    front 4..5  dimmer           ganged  at 1/2\n    side 1..2   par-rgbw dimmed  ganged\n"
          "    lamp        dimmer           at 1/20\n");
    CHECK(syntax::format(std::string(all["patch"])) == all["patch"]);
    CHECK(all["addresses"].size() == 9);
    CHECK(all["addresses"].back() == Json{{"fixture", "lamp"},
                                          {"type", "dimmer"},
                                          {"mode", "level"},
                                          {"universe", 1},
                                          {"address", 20},
                                          {"switches", "4 16"},
                                          {"channels", "20"}});
    CHECK(all["hookup"][2] ==
          Json{{"channel", 3}, {"slot", "1/3"}, {"fixture", "side 1, side 2"}, {"part", "intensity"}});
    // On a smaller layout it comes in from where it stood.
    const Json small = report(rig + cues + hall, "--way " + std::to_string(all["ways"].size()));
    CHECK(has(small["patch"], "lamp        dimmer\n"));
    CHECK(small["addresses"].back()["address"] == 6);
}

TEST_CASE("a row goes round what stands aside in it", "[unit][desk][fit]") {
    const Json all = report(
        "patch 1/10\n    front 1..4  dimmer\n    lamp  dimmer  at 1/2\ncue 1\n"
        "    front  20% .. 80%\n    lamp  full\n" +
        hall);
    // It is where the row comes by, and needs no word of its own.
    CHECK(all["patch"] ==
          "patch 1/1\n    front 1     dimmer\n    lamp        dimmer\n    front 2..4  dimmer\n");
}

TEST_CASE("no fixture stands on slots that no channel plays, nor over a universe's end",
          "[unit][desk][fit]") {
    const std::string wired = "desk hall\n    layout  wide  12 channels  1 scene\n    channel 2 is 1/40\n";
    const Json all = report(
        "patch 1/1\n    bar 1..3  par-rgb\n    lamp  dimmer\ncue 1\n    bar 1  emitter red full  full\n"
        "    bar 2  emitter blue full  full\n    bar 3  emitter green full  full\n    lamp  full\n" +
        wired);
    // Slot 2 is on no channel, so the first three in a row are 3 to 5.
    CHECK(has(all["patch"], "patch 1/3\n"));
    CHECK(all["ways"][0]["fits"] == Json{"wide"});
    const Json wide = report(
        "patch 1/1\n    bar 1..40  strip-4\npatch 2/1\n    rail 1..5  strip-4\ncue 1\n"
        "    bar cells  10% .. full\n    rail cells  full .. 10%\n" +
        hall);
    REQUIRE(wide["ways"][0]["lossless"] == true);
    for (const Json& row : wide["addresses"]) CHECK(int{row["address"]} + 11 <= 512);
}

TEST_CASE("a show beyond every layout is told by how much", "[unit][desk][fit]") {
    const std::string much = "patch 1/1\n    a  strip-4\n    b  head\n    c  par-rgb\n    d  dimmer\n";
    const std::string small = "desk hall\n    layout  pair  4 channels  2 scenes\n";
    const test::Ran ran = run_fit(much + "cue 1\n    all  full\n    a cells  10% .. full  #ffb000\n" + small);
    CHECK(ran.code == 0);
    CHECK(has(ran.out, "no way fits: "));
    const Json all = report(much + "cue 1\n    all  full\n" + small);
    const Json& chosen = all["ways"][int{all["chosen"]} - 1];
    CHECK(chosen["fits"].empty());
    CHECK(all["channels_over"] == int{chosen["channels"]} - 4);
    for (const Json& way : all["ways"]) CHECK(way["channels"] >= chosen["channels"]);
}

// Slots 2 and 7 are on no channel, so a layout of 9 channels has a row of one, of four and of two, and
// channel 2 on 1/40. By hand: four heads of 3 slots are 3..5, then 8..10, 11..13 and 14..16: all but 3..5, 8
// and 9.
TEST_CASE("a way that fits no layout stays on the desk's channels, and counts all that are past the layout",
          "[unit][desk][fit]") {
    const std::string show =
        "patch 1/1\n    bar 1..4  par-rgb\ncue 1\n    bar 1  emitter red full  full\n"
        "    bar 2  emitter red 50%  full\n    bar 3  emitter green full  full\n"
        "    bar 4  emitter blue full  full\n";
    const std::string gaps = "    channel 2 is 1/40\n    channel 7 is 1/41\n";
    const std::string wired = "desk hall\n    layout  wide  9 channels  1 scene\n" + gaps;
    const Json all = report(show + wired, "--way 1");
    CHECK(all["ways"][0]["channels"] == 12);
    CHECK(all["ways"][0]["fits"].empty());
    for (const Json& row : all["hookup"]) CHECK(!row["channel"].is_null());
    CHECK(all["patch"] == "patch 1/3\n    bar 1     par-rgb\npatch 1/8\n    bar 2..4  par-rgb\n");
    CHECK(all["channels_over"] == 7);
}

TEST_CASE("a way that fits no layout names the way that does", "[unit][desk][fit]") {
    const Json all = report(rig + cues + "desk hall\n    layout  wide  8 channels  1 scene\n", "--way 2");
    CHECK(all["ways"][1]["fits"].empty());
    CHECK(all["channels_over"] == 9);
    const std::string out =
        run_fit(rig + cues + "desk hall\n    layout  wide  8 channels  1 scene\n", "--way 2").out;
    CHECK(has(out, "way 2: 17 channels; it fits no layout: 9 of them are on no channel of the"));
    CHECK(has(out, "(way 1 fits wide)"));
    CHECK(!has(out, "no way fits"));
}

TEST_CASE("`fit` writes the patch, and no file of the show", "[unit][desk][fit]") {
    const std::string out = test::scratch("patch.tallow");
    CHECK(run_fit(rig + cues + hall, "-o " + test::quoted(out)).code == 0);
    const std::string written = *runtime::read_file(out, 1u << 20);
    CHECK(written == run_fit(rig + cues + hall, "-o - 2> /dev/null").out);
    CHECK(written == report(rig + cues + hall)["patch"]);
    test::compile_files({{"main.tallow", cues + hall + "use \"patch.tallow\"\n"}, {"patch.tallow", written}});
    const test::Ran over = run_fit(rig + cues + hall, "-o " + test::quoted(test::scratch("fit.tallow")));
    CHECK(over.code == 2);
    CHECK(has(over.out, "is a file of the show"));
    CHECK(*runtime::read_file(test::scratch("fit.tallow"), 1u << 20) == rig + cues + hall);
}

TEST_CASE("`fit` says what is wrong with what it is given", "[unit][desk][fit]") {
    CHECK(has(run_fit(rig + cues + "desk hall\n    notch  5%\n").out, "the desk has no layout: write"));
    CHECK(report(rig + cues + "desk hall\n    notch  5%\n")["layouts"].empty());
    CHECK(has(run_fit(hall).out, "the show has no fixture"));
    CHECK(run_fit(hall).code == 2);
    CHECK(has(run_fit(rig + cues + "desk attic\n").out, "there is no desk `hall`; there is `attic`"));
    const test::Ran way = run_fit(rig + cues + hall, "--way 99");
    CHECK(way.code == 2);
    CHECK(has(way.out, "there is no way 99; give one of 1 to "));
    CHECK(run_fit(rig + "cue 1\n    front 9  full\n" + hall).code == 1);
    const std::string other = "desk attic  plays universe 2\n    layout  one  4 channels  1 scene\n";
    CHECK(has(run_fit("patch 2/1\n    back  dimmer\n" + rig + cues + hall + other).out,
              "the desk `attic` would play a universe without fixtures"));
}

TEST_CASE("names of other scripts and a show in several files fit, too", "[unit][desk][fit]") {
    const std::string named =
        "show \"Чайка\"  tallow 1\npatch 1/1\n    außen 1..2  dimmer\n    свет 1..2  par-rgb\n"
        "cue 1  fade 2s\n    außen  50%\n    свет  #ffb000 50%\n" +
        hall;
    const Json all = report(named);
    CHECK(all["ways"][0]["channels"] == 4);
    CHECK(has(all["patch"], "свет 1..2   par-rgb  ganged"));
    CHECK(has(run_fit(named).out, "Чайка on the desk hall"));
}

// By hand: five slots or three, for each of two.
TEST_CASE("what a line is in the way of is said, and is no way", "[unit][desk][fit]") {
    const std::string type =
        "type wash\n    mode  long   intensity red green blue strobe\n    mode  short  red green blue\n"
        "    range strobe  open 0..9  rate 10..255 is 1Hz..20Hz\n"
        "patch 1/1\n    wash 1..2  wash\n    other  wash\n"
        "desk hall\n    layout  tiny  1 channel  1 scene\n";
    const std::string lit = "cue 1  cut\n    wash 1, other  #ffb000  50%\n    wash 2  #ffb000  60%\n";
    const Json all = report(type + lit + "cue 2\n    wash  strobe 4Hz\n");
    REQUIRE(all["refused"].size() == 1);
    CHECK(all["refused"][0] ==
          "wash 1..2 in mode short would save 4 channels, but for the line `wash strobe 4Hz`: `wash` has no "
          "`strobe`");
    CHECK(has(run_fit(type + lit + "cue 2\n    wash  strobe 4Hz\n").out, "once a line is changed"));
    // The other one of the line takes it: then it may be given up, on one of them alone, and that is said.
    const Json shared = report(type + lit + "cue 2\n    wash 2, other  strobe 4Hz\n");
    CHECK(shared["refused"].size() == 1);
    CHECK(has(shared["ways"].dump(), "other: strobe off by up to"));
}

TEST_CASE("a white given up is told by its colour and light", "[unit][desk][fit]") {
    const std::string show =
        "type wash\n    emitter  red    xy 0.70 0.30  100 lm\n    emitter  blue   xy 0.15 0.05  50 lm\n"
        "    emitter  white  xy 0.31 0.33  150 lm\n    mode  long   intensity red blue white\n"
        "    mode  short  intensity red blue\npatch 1/1\n    wash  wash\n"
        "desk hall\n    layout  tiny  3 channels  1 scene\n"
        "palette mix  red full white full\ncue 1\n    wash  mix  full\n";
    const Json all = report(show);
    const Json& way = all["ways"].back();
    CHECK(way["channels"] == 3);
    CHECK(way["worst_percent"] == 100);
    // By hand: 100 lm of 250 are left, and only red: u'v' .5384 .5192 (4x, 9y over -2x + 12y + 3, which is
    // 5.2). Both: X 100·.7/.3 + 150·.31/.33, Y 250, Z 0 + 150·.36/.33, so x .4696, y .3133, u'v' .3226 .4842.
    CHECK(has(way["lost"].dump(), "light down to 40.0%"));
    CHECK(has(way["lost"].dump(), "colour off by up to Δu′v′ 0.2"));
}

TEST_CASE("what differs in the panic look alone is told", "[unit][desk][fit]") {
    const std::string show =
        "patch 1/1\n    front 1..2  dimmer\ndesk hall\n    layout  tiny  1 channel  1 scene\n"
        "look exit\n    front 1  full\n    front 2  70%\nsafety\n    panic  look exit\ncue 1\n    front  "
        "50%\n";
    const Json all = report(show);
    const Json& way = all["ways"].back();
    CHECK(way["channels"] == 1);
    CHECK(way["lossless"] == false);
    CHECK(has(way["lost"].dump(), "levels off by up to 30.0%"));
    CHECK(has(way["lost"].dump(), "in the panic look"));
}

TEST_CASE("a fixture's own response stays in its words", "[unit][desk][fit]") {
    const std::string bent =
        "patch 1/1\n    old 1..2  dimmer  response square  preheat 4%  at 1/5\n    old 3  dimmer\n"
        "cue 1\n    old  50%\n" +
        hall;
    const Json all = report(bent);
    CHECK(has(all["patch"], "response square  preheat 4%"));
    CHECK(all["ways"][0]["lossless"] == true);
    CHECK(all["ways"][0]["channels"] == 2);  // the third one answers otherwise
}
