#include <algorithm>
#include <catch2/catch.hpp>

#include "compiler/cues/cue_sheet.hpp"
#include "tests/support/desk_show.hpp"

using namespace tallow;
using Json = nlohmann::json;

namespace {

const std::string play = R"(show "s" tallow 1
patch 1/1
    lamp 1..6  dimmer
cue 1 "Up"  fade 3s
    lamp 1..2  50%
cue 2  up 4s  down 2s  follow 3s  delay 1s
    on    "the bell"
    page  7
    lamp 3     full
cue 3  cut
    lamp 1..3  out
    lamp 6     20%
cue 4
    note  "stay"
desk d
)";

std::vector<std::string> column(const Json& rows, const char* id) {
    std::vector<std::string> all;
    for (const Json& row : rows)
        all.push_back(row.at(id).is_string() ? row.at(id).get<std::string>() : row.at(id).dump());
    return all;
}

using Texts = std::vector<std::string>;

}  // namespace

TEST_CASE("the operator's page says what to do at each cue, and meanwhile", "[unit][operator]") {
    const auto show = test::desk_show(play + "    layout pair  6 channels  2 scenes\n");
    const Json& rows = show.table("operator");
    CHECK(column(rows, "do") == Texts{"master to A", "master to B", "master to A", "touch nothing"});
    CHECK(column(rows, "meanwhile") ==
          Texts{"set B for cue 2: 3 at F; 1-2 at 50", "set A for cue 3: 6 at 20; 1-2 at 0", "", ""});
    CHECK(column(rows, "time") == Texts{"3s", "wait 1s, then 4s up, 2s down", "at once", ""});
    CHECK(column(rows, "listen_for") ==
          Texts{"GO", "the bell (page 7)", "no call: begin 3s after cue 2 is complete", "GO"});
    CHECK(column(rows, "then")[1] == "begin cue 3 without a call, 3s after this one is complete");
    CHECK(column(rows, "then")[0].empty());
    const Texts notes = show.json.at("notes").at("operator");
    CHECK(std::count(notes.begin(), notes.end(), "BEFORE THE SHOW: set A for cue 1: 1-2 at 50.") == 1);
    CHECK(std::any_of(notes.begin(), notes.end(), [](const auto& n) { return n.starts_with("LOST?"); }));
}

TEST_CASE("what the show would start, the operator is told to begin", "[unit][operator]") {
    const auto show = test::desk_show(R"(show "s" tallow 1
patch 1/1
    lamp 1..6  dimmer
cue 1  next-at 4s
    lamp 1  50%
cue 2  follow 0s
    lamp 2  50%
cue 3
    lamp 3  50%
cue 4  timecode 00:01:00:00
    lamp 4  50%
desk d
    layout pair  6 channels  2 scenes
)");
    CHECK(column(show.table("operator"), "listen_for") == Texts{"GO", "no call: begin 4s after cue 1 began",
                                                                "no call: begin as soon as cue 2 is complete",
                                                                "no call: begin at timecode 00:01:00:00"});
    CHECK(column(show.table("operator"), "then") ==
          Texts{"begin cue 2 without a call, 4s after this one began",
                "begin cue 3 without a call, as soon as this one is complete", "", ""});
}

TEST_CASE("without scenes the operator has submasters, with one scene faders", "[unit][operator]") {
    const auto subs = test::desk_show(play + "    layout subs  6 channels  1 submaster  3 pages\n");
    CHECK(column(subs.table("operator"), "do")[1] ==
          "page 1 sub 1 to 0, turn to page 2, then page 2 sub 1 to full");
    CHECK(column(subs.table("operator"), "meanwhile")[0].empty());  // its light is up on page 1 till then
    const Texts notes = subs.json.at("notes").at("run");
    CHECK(std::any_of(notes.begin(), notes.end(), [](const auto& n) {
        return n.starts_with("PAGES: in cues 2, 3 one submaster falls on one page and rises on another.");
    }));
    const auto one = test::desk_show(play + "    layout one  6 channels  1 scene\n");
    CHECK(column(one.table("operator"), "do") ==
          Texts{"1-2 at 50", "3 at F", "6 at 20; 1-3 at 0", "touch nothing"});
}

TEST_CASE("the cue sheet has trigger, times, what follows and what changes", "[unit][cues]") {
    auto show = test::desk_show(play + R"(    layout pair  6 channels  2 scenes
list side "Beside"
cue 1  timecode 00:00:45:00
    lamp 5  10%
)");
    const auto sheets = cues::cue_sheets(show.compiled->show, show.compiled->sources, *show.compiled->book);
    REQUIRE(sheets.size() == 2);
    CHECK(sheets[0].id == "cues");
    CHECK(sheets[1].id == "cues-side");
    const auto& rows = sheets[0].tables[0].rows;
    CHECK(rows[0] == Texts{"1", "Up", "GO", "3", "3", "0", "", "", "lamp 1..2  50%"});
    CHECK(rows[1] == Texts{"2", "", "GO: the bell", "4", "2", "1", "follow 3s", "page 7", "lamp 3  full"});
    CHECK(rows[2][2] == "by itself, 3s after cue 2 is complete");
    CHECK(rows[3] == Texts{"4", "", "GO", "3", "3", "0", "", "stay", "nothing"});
    CHECK(sheets[1].tables[0].rows[0][2] == "timecode 00:00:45:00");
}

TEST_CASE("labels name each fader, and submasters are left to write on", "[unit][strip]") {
    const auto show = test::desk_show(R"(show "s" tallow 1
patch 1/1
    lamp 1..2  dimmer
    par        par-rgb
cue 1
    lamp  50%
desk d
    layout l  7 channels  2 scenes  2 submasters  rows 2
)");
    const Json& rows = show.table("strip");
    CHECK(column(rows, "label") == Texts{"lamp 1", "lamp 2", "par red", "par green", "par blue", "", ""});
    CHECK(column(rows, "row") == Texts{"1", "1", "1", "1", "2", "2", "2"});
    for (const emit::Sheet& sheet : show.sheets.sheets)
        if (sheet.id == "strip") {
            REQUIRE(sheet.strips.size() == 2);
            CHECK(sheet.strips[1].labels.size() == 2);
        }
}
