// Recordings, run lists and chases as the sheets tell them.
#include <catch2/catch.hpp>

#include "compiler/text/utf8.hpp"
#include "tests/support/csv.hpp"
#include "tests/support/desk_show.hpp"

using namespace tallow;
using Json = nlohmann::json;

namespace {

const std::string head = "show \"s\" tallow 1\npatch 1/1\n    lamp 1..6  dimmer\n";

std::string text_of(const test::DeskShow& show, const std::string& id) {
    for (const emit::Sheet& sheet : show.sheets.sheets)
        if (sheet.id == id) return emit::text(show.sheets, sheet);
    FAIL("there is no sheet " << id);
    return {};
}

bool says(const std::string& text, const std::string& words) {
    // Words may be broken over lines.
    std::string flat;
    for (const char c : text)
        if (!(c == '\n' && !flat.empty() && flat.back() == ' ')) flat += c == '\n' ? ' ' : c;
    return flat.find(words) != std::string::npos;
}

}  // namespace

TEST_CASE("one recording at two positions gives looks that differ in brightness", "[unit][desk]") {
    const auto show = test::desk_show(head + R"(
cue 1  fade 2s
    lamp 1..3  80%
    lamp 4     40%
cue 2  follow 3s  fade 1s
    lamp 1..3  40%
    lamp 4     20%
cue 3  next-at 1s
    lamp 6     full
cue 4
    lamp       out
desk d
    layout l  6 channels  4 submasters
    reach 2s
)");
    CHECK(show.table("recordings").size() == 2);
    const Json& run = show.table("run");
    CHECK(run[0].at("moves") == 1);
    CHECK(run[1].at("moves") == 1);
    CHECK(run[1].at("work_s") == 2);
    CHECK(run[1].at("room_s") == 4);
    CHECK(run[1].at("in_time") == "yes");
    CHECK(run[2].at("room_s") == 1);
    CHECK(run[2].at("in_time") == "no");
    CHECK(run[3].at("moves") == 2);
    CHECK(show.table("fit")[0].at("late") == 1);
    CHECK(says(text_of(show, "run"), "1 move: about 2s. The show leaves 1s: TOO SHORT"));
    // The reason can be checked by hand.
    const auto reason = test::csv_table(show.sheets, "reason");
    REQUIRE(reason.size() == 2);
    const auto at = [&](std::size_t row, std::size_t of) {
        return std::stod(reason[row].at(reason[of].at("channel")));
    };
    CHECK(at(0, 0) * at(1, 1) > at(0, 1) * at(1, 0));
    CHECK(says(text_of(show, "recordings"), "No plan has fewer than 2"));
}

TEST_CASE("two submasters on one fixture's colour are warned of", "[unit][desk]") {
    const std::string colours = R"(show "s" tallow 1
patch 1/1
    par 1..2  par-rgb
cue 1
    par 1   emitter red full  full
    par 2   emitter green full  full
cue 2
    par 1   emitter red full  full
    par 2   out
cue 3
    par 1   emitter blue full  emitter red full  full
cue 4
    par 1   emitter blue full  emitter red 50%  full
cue 5
    par 1   emitter blue full  emitter red out  full
desk d
    layout l  6 channels  SUBS submasters
)";
    const auto with = [&](const std::string& count) {
        std::string text = colours;
        return test::desk_show(text.replace(text.find("SUBS"), 4, count));
    };
    const auto show = with("6");
    const auto mixed = test::losses(show, "mix", test::WithCue::yes);
    REQUIRE_FALSE(mixed.empty());
    CHECK(mixed.front().find("two raised submasters hold colour of par 1") != std::string::npos);
    CHECK(says(text_of(show, "run"), "COLOURS: in cue"));
    // Played from one recording at a time, nothing mixes.
    const auto plain = test::desk_show(head +
                                       "cue 1\n    lamp 1..6  50%\ndesk d\n    layout l 6 channels "
                                       "2 submasters\n");
    CHECK(test::losses(plain, "mix").empty());
}

// By hand: the wash is red, stays red in the dark of cues 2 and 3 while the front is at half, is blue in
// cue 4. Red with its master, the front, blue with its master: three, and none for red without light.
TEST_CASE("colours of a fixture that is dark are left out of recordings", "[unit][desk]") {
    const auto show = test::desk_show(R"(show "s" tallow 1
type cube
    mode    rgbd  red green blue intensity
patch 1/1
    wash    cube
    front   dimmer
cue 1
    wash    emitter red full  full
cue 2
    wash    out
    front   50%
cue 3
    front   out
cue 4
    wash    emitter red out  emitter blue full  full
desk d
    layout l  5 channels  3 submasters
)");
    const auto recordings = test::csv_table(show.sheets, "recordings");
    REQUIRE(recordings.size() == 3);
    CHECK(recordings[0].at("1") == "100");
    CHECK(recordings[0].at("cues") == "1");
    CHECK(recordings[2].at("3") == "100");
    CHECK(recordings[2].at("4") == "100");
    const auto run = test::csv_table(show.sheets, "run");
    CHECK(run[2].at("up").empty());
    for (const auto& row : run) CHECK(row.at("off") == "0");
    for (const Json& row : show.table("fidelity")) CHECK(row.at("level_off") == 0);
    CHECK(test::losses(show, "mix").empty());
    CHECK(test::losses(show, "submasters").empty());
}

// 52% for a notch of 10%: off by 2 where it shows.
TEST_CASE("what is dark counts in no sheet", "[unit][desk]") {
    for (const std::string layout : {"1 scene", "2 scenes", "9 submasters"}) {
        INFO(layout);
        const auto show = test::desk_show(R"(show "s" tallow 1
type cube
    mode    rgbd  red green blue intensity
patch 1/1
    front   dimmer
    wash    cube
    back    cube
cue 1
    front   50%
    wash    emitter red 52%  out
    back    emitter red full  out
cue 2
    wash    full
desk d
    notch   10%
    layout l  5 channels  )" + layout + "\n");
        CHECK(show.table("fidelity")[0].at("level_off") == 0);
        CHECK(show.table("fidelity")[1].at("level_off") == 2);
        const auto rounding = test::losses(show, "rounding", test::WithCue::yes);
        REQUIRE(rounding.size() == 1);
        CHECK(rounding[0].starts_with("2: largest rounding error 2%, on channel 2"));
        CHECK(test::losses(show, "outside").empty());  // back is patched past the layout, and is dark
        CHECK(show.table("fit")[0].at("lost") == 0);
        if (layout != "9 submasters") continue;
        const auto run = test::csv_table(show.sheets, "run");
        CHECK(run[0].at("off") == "0");
        CHECK(run[1].at("off") == "2");
    }
}

TEST_CASE("positions and named ranges are kept, and said to be no levels", "[unit][desk]") {
    const auto show = test::desk_show(R"(show "s" tallow 1
type tri
    mode    six  red green blue intensity strobe
    range   strobe  open 0..9  slow 80..83  rate 100..255 is 1Hz..20Hz
patch 1/1
    par     tri
cue 1
    par     emitter red full  50%  strobe slow
cue 2
    par     full
cue 3
    par     strobe open
desk d
    layout l  5 channels  4 submasters
    notch 2%
)");
    CHECK(says(text_of(show, "recordings"), "No levels: channel 5"));
    // 80..83 of 255 lies between 31.2% and 32.7%: 32% alone of the settings. The reason says so of a cell.
    std::size_t seen = 0;
    for (const auto& row : test::csv_table(show.sheets, "reason")) {
        if (row.at("channel") != "5") continue;
        CHECK(std::stod(row.at("5")) > 79.4 / 2.55);
        ++seen;
    }
    CHECK(seen == 1);
    const auto recordings = test::csv_table(show.sheets, "recordings");
    const auto moves = test::csv_table(show.sheets, "moves");
    std::map<std::string, double> stands;
    for (const std::string cue : {"1", "2", "3"}) {
        for (const auto& move : moves)
            if (move.at("cue") == cue) stands[move.at("submaster")] = std::stod(move.at("to"));
        double strobe = 0;
        for (const auto& r : recordings)
            strobe = std::max(strobe, stands[r.at("submaster")] * std::stod(r.at("5")) / 100);
        INFO("cue " << cue);
        if (cue == "3")
            CHECK(strobe <= 9.5 / 2.55);
        else
            CHECK((strobe > 79.5 / 2.55 && strobe < 83.5 / 2.55));
    }
}

TEST_CASE("a desk with pages keeps what a cue uses together", "[unit][desk]") {
    std::string text = head;
    // Six looks that share nothing: each lamp alone, lit in turn.
    for (int n = 1; n <= 6; ++n)
        text += "cue " + std::to_string(n) + "\n    lamp  out\n    lamp " + std::to_string(n) + "  full\n";
    const auto show = test::desk_show(text + "desk d\n    layout l  6 channels  2 submasters  3 pages\n");
    CHECK(show.table("fit")[0].at("fits") == "yes");
    const auto recordings = test::csv_table(show.sheets, "recordings");
    REQUIRE(recordings.size() == 6);
    std::map<std::string, int> on_page;
    for (const auto& r : recordings) ++on_page[r.at("page")];
    CHECK(on_page == std::map<std::string, int>{{"1", 2}, {"2", 2}, {"3", 2}});
    for (const auto& row : test::csv_table(show.sheets, "run")) CHECK(row.at("off") == "0");
    CHECK(says(text_of(show, "run"), "UP page 1 sub 1 to full"));
    const auto few = test::desk_show(text + "desk d\n    layout l  6 channels  2 submasters  2 pages\n");
    CHECK(few.table("fit")[0].at("fits") == "no");
    CHECK(test::losses(few, "submasters").size() == 6);
    CHECK(says(text_of(few, "recordings"),
               "6 recordings give every cue within half a notch; the desk has room for 4."));
}

TEST_CASE("waves become chases, and what cannot is said", "[unit][desk]") {
    const std::string waves = head + R"(wave swell   sine  period 3s  wavelength 3
    intensity   20% .. full
wave quick   sine  period 1500ms
    intensity   out .. full
wave odd     sine  period 1700ms
    intensity   out .. full
wave candle  flicker  period 300ms
    intensity   20% .. full
wave breath  sine  period 3s
    intensity   98% .. full
cue 1
    lamp 1..3   full  wave swell
cue 2
    lamp 1..3   steady
cue 3
    lamp 1..3   full  wave swell
    lamp 4      full  wave quick
cue 4
    lamp        steady
    lamp 5      full  wave candle
    lamp 1      full  wave breath
cue 5
    lamp        steady
    lamp 1..3   full  wave swell
    lamp 6      full  wave odd
desk d
    layout l  6 channels  1 scene
    chases COUNT each STEPS steps
)";
    const auto with = [&](const std::string& count, const std::string& steps) {
        std::string text = waves;
        text.replace(text.find("COUNT"), 5, count);
        return test::desk_show(text.replace(text.find("STEPS"), 5, steps));
    };
    const auto rich = with("9", "30");
    const Json& chases = rich.table("chases");
    REQUIRE(chases.size() == 3);
    CHECK(chases[0].at("cues") == "1, 5");  // alone again in cue 5
    CHECK(chases[0].at("round_s") == 3);
    CHECK(chases[1].at("cues") == "3");  // swell, and two turns of quick
    CHECK(chases[1].at("waves") == "quick, swell");
    CHECK(chases[2].at("round_s") == 1.7);
    // rounding.
    CHECK(rich.table("presets")[0].at("1") == 0);
    CHECK(says(text_of(rich, "presets"), "Chase 1 runs: leave channels 1-3 down."));
    const auto said = test::losses(rich, "steps", test::WithCue::yes);
    CHECK(std::count(said.begin(), said.end(),
                     "4: `candle` on channel 5: it does not repeat, so it is no chase") == 1);
    CHECK(
        std::count(said.begin(), said.end(),
                   "5: what moves in different periods does not go into one chase; each period is one of its "
                   "own") == 1);
    CHECK(test::losses(rich, "wave").size() == 2);  // candle and breath stand still; breath hardly moves

    const auto poor = with("1", "4");
    CHECK(poor.table("chases").size() == 1);
    CHECK(poor.table("chases")[0].at("steps") == 4);
    CHECK(poor.table("chases")[0].at("needed").get<int>() > 4);
    CHECK(poor.table("chases")[0].at("off").get<double>() > 2.5);
    const auto missing = test::losses(poor, "steps", test::WithCue::yes);
    CHECK(std::count(missing.begin(), missing.end(),
                     "3: `quick` would need a chase more than the desk's 1") == 1);
    CHECK(test::losses(with("0", "4"), "wave").size() == 7);
}

TEST_CASE("a look that repeats in a chase is printed once", "[unit][desk]") {
    const auto show = test::desk_show(head + R"(wave blink  square  period 2s  wavelength 2  duty 50%
    intensity  out .. full
wave march  points 0% full, 25% full, 25% out, 50% out, 50% full, 75% full, 75% out, 100% out  period 4s
    intensity  out .. full
cue 1
    lamp 1..2  full  wave blink
cue 2
    lamp       steady
    lamp 5     full  wave march
desk d
    layout l  6 channels  1 scene
    chases 2 each 8 steps
)");
    const Json& chases = show.table("chases");
    REQUIRE(chases.size() == 2);
    CHECK(chases[0].at("steps") == 2);
    CHECK(chases[0].at("fade_s") == 0);
    CHECK(chases[0].at("per_minute") == 60);
    CHECK(chases[0].at("off") == 0);
    for (const auto& row : test::csv_table(show.sheets, "looks"))
        if (row.at("chase") == "2") CHECK(std::stoi(row.at("look")) <= 2);
    CHECK(says(text_of(show, "chases"), "LOOK 1"));
}

TEST_CASE("the new sheets keep to the paper", "[unit][desk]") {
    std::string text = head + "wave w  sine  period 3s  wavelength 6\n    intensity  20% .. full\n";
    for (int n = 1; n <= 12; ++n) {
        text += "cue " + std::to_string(n) +
                " \"A label, \\\"quoted\\\", of a length that no line has room for, <b>&amp;\"\n";
        for (int c = 1; c <= 6; ++c)
            text += "    lamp " + std::to_string(c) + "  " + std::to_string((n * n * c * 7) % 101) + "%\n";
    }
    text +=
        "    lamp  wave w\ndesk d\n    layout l  6 channels  3 submasters  4 pages\n    chases 2 each 9 "
        "steps\n";
    const auto show = test::desk_show(text);
    for (const char* id : {"recordings", "run", "chases"}) {
        std::istringstream lines(text_of(show, id));
        for (std::string line; std::getline(lines, line);) {
            if (!line.empty() && line[0] == '\f') line.erase(0, 1);
            INFO(id << ": " << line);
            CHECK(text::width(line) <= emit::page_columns);
        }
    }
}
