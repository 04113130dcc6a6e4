#include <catch2/catch.hpp>
#include <filesystem>
#include <sstream>

#include "compiler/desk/looks.hpp"
#include "compiler/text/utf8.hpp"
#include "runtime/files.hpp"
#include "tests/support/command.hpp"
#include "tests/support/desk_show.hpp"
#include "tests/support/made_frames.hpp"

using namespace tallow;
using desk::nearest_setting;
using Json = nlohmann::json;

namespace {

const std::string head = "show \"s\" tallow 1\npatch 1/1\n    lamp 1..6  dimmer\n";

std::string all_text(const test::DeskShow& show) {
    std::string all;
    for (const emit::Sheet& sheet : show.sheets.sheets) all += emit::text(show.sheets, sheet);
    return all;
}

}  // namespace

TEST_CASE("levels go to the nearest notch, and full is always one", "[unit][desk]") {
    const desk::Percent p = 1'000'000;
    CHECK(nearest_setting(0, 5 * p) == 0);
    CHECK(nearest_setting(2 * p, 5 * p) == 0);
    CHECK(nearest_setting(2 * p + p / 2, 5 * p) == 5 * p);
    CHECK(nearest_setting(94 * p, 30 * p) == 90 * p);
    CHECK(nearest_setting(96 * p, 30 * p) == 100 * p);
    CHECK(nearest_setting(100 * p, 30 * p) == 100 * p);
    CHECK(desk::ranges_text({1, 2, 3, 7, 9, 10}) == "1-3, 7, 9-10");
    CHECK(desk::ranges_text({9, 2, 1, 2, 10, 3, 9}) == "1-3, 9-10");
    CHECK(desk::channels_text({4, 4}) == "channel 4");
}

TEST_CASE("hands have from the end of a crossfade to the next GO of the scene", "[unit][desk]") {
    const auto show = test::desk_show(head + R"(
cue 1  fade 1s
    lamp 1..2  50%
cue 2  fade 2s  follow 3s
    lamp 1..3  60%
cue 3  cut  next-at 4s
    lamp 1     70%
cue 4  cut
    lamp 1..6  80%
desk d  plays universe 1
    layout l  6 channels  2 scenes
    reach  1s
)");
    const Json& rows = show.table("presets");
    CHECK(rows[0].at("scene") == "A");
    CHECK(rows[1].at("scene") == "B");
    CHECK(rows[1].at("room_s") == nullptr);  // cue 1 waits for the operator
    CHECK(rows[2].at("moved") == "1-3");     // against 50, 50, 0 of cue 1
    CHECK(rows[2].at("room_s") == 3);        // scene A is free 2 s after the GO of cue 2; cue 3 comes at 5 s
    CHECK(rows[2].at("in_time") == "yes");
    CHECK(rows[3].at("moves") == 6);
    CHECK(rows[3].at("work_s") == 6);
    CHECK(rows[3].at("room_s") == 4);
    CHECK(rows[3].at("in_time") == "no");
    CHECK(show.table("fit")[0].at("late") == 1);
    CHECK(all_text(show).find("The show leaves 4s: TOO SHORT") != std::string::npos);
    CHECK(test::losses(show, "start").size() == 2);
}

TEST_CASE("an equal picture takes no scene", "[unit][desk]") {
    const auto show =
        test::desk_show(head +
                        "cue 1\n    lamp 1  50%\ncue 2\n    lamp 1  51%\ncue 3\n    lamp 1  90%\n"
                        "desk d\n    layout l  6 channels  2 scenes\n");
    const Json& rows = show.table("presets");
    CHECK(rows[1].at("scene") == "");
    CHECK(rows[2].at("scene") == "B");
    CHECK(test::losses(show, "rounding") ==
          std::vector<std::string>{"largest rounding error 1%, on channel 1 (50% for 51%)"});
}

TEST_CASE("what a desk cannot do is said", "[unit][desk]") {
    const auto show = test::desk_show(R"(show "s" tallow 1
type tri
    mode    six  red green blue intensity strobe
    range   strobe  open 0..9  closed 10..12  rate 20..255 is 1Hz..20Hz
patch 1/1
    par     tri
    mover   head
    far     dimmer  at 1/90
wave swell  sine  period 2s
    intensity  20% .. full
wave roll   sine  period 2s
    red  out .. full
cue 1  fade 4s  delay 2s  curve ease
    par     #ffffff 50%  wave swell
    far     30%
cue 2  fade 4s  colour 7s
    par     #ff0000  strobe closed
    par     60%  fade 1s
cue 3
    par     wave swell  wave roll
    mover   #0000ff full  pan 10deg
desk d
    layout l  20 channels  2 scenes
)");
    CHECK(test::losses(show, "wave")[0] ==
          "wave `swell` stands still at the middle of its range on channel 4; it would move levels by up to "
          "20%");
    CHECK(test::losses(show, "wave").size() == 4);  // cues 1, 2 and 3, and `roll`
    CHECK(test::losses(show, "delay") ==
          std::vector<std::string>{"count 2s from the GO by hand, then crossfade"});
    CHECK(test::losses(show, "curve").size() == 1);
    CHECK(test::losses(show, "time") ==
          std::vector<std::string>{"`par` should take 1s and goes with the crossfade in 4s",
                                   "colour should take 7s and goes with the crossfade in 4s"});
    CHECK(test::losses(show, "jump") ==
          std::vector<std::string>{"channel 5 should jump and will pass through all that lies between"});
    CHECK(test::losses(show, "range").size() == 2);  // 10..12 of 255 lies between 0% and 5%, in cues 2 and 3
    CHECK(test::losses(show, "fine").size() == 1);
    CHECK(test::losses(show, "dark").size() ==
          1);  // `par` in cue 1; `mover` stands ready on scene B in cue 2
    CHECK(test::losses(show, "outside")[0] == "channel 90: no fader in this layout, stays dark");
}

TEST_CASE("times that are spread over members are one loss, from the least to the most", "[unit][desk]") {
    const auto show = test::desk_show(R"(show "s" tallow 1
patch 1/1
    front 1..6  dimmer
    strip       strip-4
cue 1  fade 3s
    front        20% .. 80%  delay 0s .. 2s
    strip cells  #ffb000 full  fade 1s .. 4s
desk d
    layout l  20 channels  2 scenes
)");
    CHECK(test::losses(show, "delay") ==
          std::vector<std::string>{
              "`front` should wait 0s to 2s, one by one, and starts with the crossfade after 0s"});
    CHECK(test::losses(show, "time") ==
          std::vector<std::string>{
              "`strip cells` should take 1s to 4s, one by one, and goes with the crossfade in 3s"});
    CHECK(test::losses(show, "dark").empty());  // no master of the strip's stands on the desk
}

TEST_CASE("what changes nothing, or moves at once in the dark, loses no time", "[unit][desk]") {
    const auto show = test::desk_show(R"(show "s" tallow 1
patch 1/1
    par     par-rgb colour
    lamp    dimmer
cue 1  fade 4s  colour 7s
    par     #ff0000 full
    lamp    60%
cue 2  fade 4s
    lamp    60%  fade 9s
cue 3  fade 4s  colour 7s
    par     #0000ff
desk d
    layout l  4 channels  2 scenes
)");
    CHECK(test::losses(show, "time") ==
          std::vector<std::string>{"colour should take 7s and goes with the crossfade in 4s"});
    for (const Json& row : show.table("losses"))
        if (row.at("kind") == "time") CHECK(row.at("cue") == 3);
}

TEST_CASE("the layout that loses least is taken, and each says why", "[unit][desk]") {
    const auto show = test::desk_show(head + R"(
cue 1
    lamp 1..6  50%
cue 2
    lamp 1..6  70%
desk d
    layout small  4 channels  2 scenes
    layout one    6 channels  1 scene
    layout subs   6 channels  2 submasters
    layout few    6 channels  1 submaster
)");
    const Json& rows = show.table("fit");
    CHECK(rows[0].at("lost") == 4);
    CHECK(rows[0].at("why") == "no fader for 2 lit channels (5-6); two scenes take turns");
    CHECK(rows[1].at("lost") == 0);
    CHECK(rows[2].at("best") == "*");
    CHECK(std::string(rows[2].at("why")).find("1 submaster needed for every cue, 2 there") !=
          std::string::npos);
    CHECK(rows[3].at("fits") == "yes");  // one recording at two positions
    const auto few = test::desk_show(head +
                                     "cue 1\n    lamp 1  50%\ncue 2\n    lamp  70%\n"
                                     "cue 3\n    lamp 1  out\ndesk d\n"
                                     "    layout few  6 channels  1 submaster\n");
    const Json& row = few.table("fit")[0];
    CHECK(row.at("fits") == "no");
    CHECK(std::string(row.at("why")).find("2 submasters needed for every cue, 1 there: too few") !=
          std::string::npos);
    CHECK(few.table("recordings").size() == 1);
    CHECK(row.at("lost").get<int>() > 0);
    CHECK_FALSE(test::losses(few, "submasters").empty());
    CHECK(few.table("reason").size() == 2);
}

TEST_CASE("shows and desks without much to them give sheets", "[unit][desk]") {
    const auto empty =
        test::desk_show("show \"s\" tallow 1\ndesk d\n    layout l  4 channels  2 scenes  3 submasters\n");
    CHECK(all_text(empty).find("The show has no cues") != std::string::npos);
    CHECK(all_text(empty).find("The show uses no channel of this desk.") != std::string::npos);
    const auto bare = test::desk_show(head + "cue 1\n    lamp  50%\ndesk d\n");
    CHECK(bare.sheets.sheets.size() == 1);
    CHECK(all_text(bare).find("The desk has no layout") != std::string::npos);
}

TEST_CASE("text keeps to the paper, with marks that need no colour", "[unit][desk]") {
    const auto show = test::desk_show(head + R"(
cue 1 "A label, \"quoted\", that goes on for so long that it cannot stand on the same line as the time at all"
    lamp 1     full
    lamp 2..3  40%
cue 2
    lamp 4     10%
cue 3
    lamp 1     out
desk d "Ῥόδος 光"
    layout l  48 channels  2 scenes  rows 2
)");
    const std::string text = all_text(show);
    std::istringstream lines(text);
    std::size_t seen = 0, pages = 0;
    for (std::string line; std::getline(lines, line); ++seen) {
        if (!line.empty() && line[0] == '\f') line.erase(0, 1);
        INFO(line);
        CHECK(text::width(line) <= emit::page_columns);
        pages += line.find("page 1 of 1") != std::string::npos;
    }
    CHECK(seen > 50);
    CHECK(pages >= 2);
    CHECK(text.find("\n *F *40 *40\n") != std::string::npos);
    CHECK(text.find("\n *F *40 *40 *10\n") != std::string::npos);
    CHECK(text.find("\n *0  40  40 *10\n") != std::string::npos);
    CHECK(text.find("\n 13  14  15  16  17  18  19  20  21  22  23  24\n") != std::string::npos);
}

TEST_CASE("CSV and JSON keep names whole", "[unit][desk]") {
    emit::Table table{"t", {{"n", true}, {"name"}}, {{"1.5", "plain"}, {"", "a,\"b\"\nc"}}};
    CHECK(emit::csv(table) == "n,name\n1.5,plain\n,\"a,\"\"b\"\"\nc\"\n");
    emit::SheetSet set{"S \"x\" <1>", "", "d", "l", "", "c", {{"s", "t", {}, {}, {table}}}};
    const Json back = Json::parse(emit::json(set));
    CHECK(back.at("show") == "S \"x\" <1>");
    CHECK_FALSE(back.contains("date"));
    CHECK(back.at("tables").at("t")[0].at("n") == 1.5);
    CHECK(back.at("tables").at("t")[1].at("n") == nullptr);
    CHECK(back.at("tables").at("t")[1].at("name") == "a,\"b\"\nc");
}

TEST_CASE("the command writes its files and names what there is", "[unit][desk]") {
    const std::string show = test::scratch("desk.tallow"), folder = test::scratch("desk_sheets");
    std::filesystem::remove_all(folder);
    REQUIRE(runtime::write_file(show, head + "cue 1\n    lamp #ff0000 50%\n").ok());
    const auto run = [&](const std::string& arguments) {
        return test::run(test::quoted(TALLOW_COMMAND) + " sheets " + test::quoted(show) + " " + arguments);
    };
    CHECK(run("--desk hall").code == 1);  // a colour on a dimmer
    REQUIRE(runtime::write_file(show,
                                head + "cue 1\n    lamp 50%\ndesk annexe\n    layout l  6 channels  1 scene\n"
                                       "desk hall\n    layout pair  6 channels  2 scenes\n")
                .ok());
    const auto unknown = run("--desk hal");
    CHECK(unknown.code == 2);
    CHECK(unknown.out.find("there is no desk `hal`; there is `hall`, `annexe`") != std::string::npos);
    CHECK(run("--desk hall --layout pear").out.find("there is no layout `pear`; there is `pair`") !=
          std::string::npos);
    CHECK(run("--desk hall --only pdg").code == 2);
    CHECK(run("--desk hall --only csv,json").code == 2);
    CHECK(run("--desk hall --only ascii").out.starts_with("Ident 3:0\n"));
    for (const char* wrong : {"--paper a5", "--pitch 9.99mm", "--pitch 60.01mm", "--pitch 20",
                              "--pitch 20.001mm", "--date \"$(printf '\\377')\""}) {
        INFO(wrong);
        CHECK(run(std::string("--desk hall ") + wrong).code == 2);
    }
    CHECK(run("--desk hall --only html --paper letter").out.find("@page { size: letter;") !=
          std::string::npos);
    CHECK(run("--desk hall --only html --pitch 19.5mm").out.find("--c: 19.5mm") != std::string::npos);
    CHECK(run("--desk hall --date 'first night'").out.find("first night\n") != std::string::npos);
    const auto written = run("--desk hall -o " + test::quoted(folder));
    CHECK(written.code == 0);
    for (const char* name :
         {"fit.txt", "channels.csv", "presets.txt", "presets.csv", "losses.csv", "sheets.json", "sheets.html",
          "sheets.pdf", "sheets.asc", "operator.txt", "cues.csv", "strip.csv"})
        CHECK(std::filesystem::exists(folder + "/" + name));
    CHECK(run("--desk hall -o " + test::quoted(show)).code == 2);  // a file stands there
}
