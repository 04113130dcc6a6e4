// What hands are spared on two scenes, how far a crossfade dips, and how near the desk comes to the show.
#include <algorithm>
#include <array>
#include <catch2/catch.hpp>
#include <cmath>

#include "tests/support/desk_show.hpp"

using namespace tallow;
using Json = nlohmann::json;

namespace {

const std::string rig = R"(show "The Cold Lantern" tallow 1
type cube
    emitter  red    xy 0.690 0.308   95 lm
    emitter  green  xy 0.190 0.715  150 lm
    emitter  blue   xy 0.145 0.045   30 lm
    mode     rgbd   red green blue intensity
patch 1/1
    wash     cube
    front    dimmer
)";

std::string on_desk(const std::string& cues, const std::string& more = "") {
    return rig + cues + "desk d\n    layout l  20 channels  2 scenes\n" + more;
}

std::vector<std::string> column(const test::DeskShow& show, const char* table, const char* key) {
    std::vector<std::string> all;
    for (const Json& row : show.table(table))
        all.push_back(row.at(key).is_string() ? row.at(key).get<std::string>() : row.at(key).dump());
    return all;
}

using Words = std::vector<std::string>;

}  // namespace

TEST_CASE("a fader whose light is out stays where it is", "[unit][desk]") {
    const auto show =
        test::desk_show(on_desk("cue 1\n    wash xy 0.3 0.3\n    front full\n"
                                "cue 2\n    wash xy 0.5 0.4\n    front 50%\n"
                                "cue 3\n    wash xy 0.2 0.5\n"
                                "cue 4\n    wash xy 0.3 0.3\n    front out\n"));
    CHECK(column(show, "presets", "scene") == Words{"A", "B", "", "A"});
    CHECK(column(show, "presets", "moved") == Words{"5", "5", "", "5"});
}

TEST_CASE("a fader stands ready where its light comes up next", "[unit][desk]") {
    const auto show =
        test::desk_show(on_desk("cue 1\n    front full\n"
                                "cue 2\n    wash xy 0.5 0.4 full\n"
                                "cue 3\n    wash xy 0.2 0.5\n    front out\n"));
    // Colour in scene A before the first light of it, and in scene B with it.
    CHECK(column(show, "presets", "moved") == Words{"1-3, 5", "1-5", "1-5"});
    const Words kinds = column(show, "losses", "kind");
    CHECK(std::count(kinds.begin(), kinds.end(), "dark") == 0);
}

TEST_CASE("light that goes out keeps its colour, and comes up again in its own", "[unit][desk]") {
    const auto show =
        test::desk_show(on_desk("cue 1\n    wash xy 0.5 0.4 full\n    front full\n"
                                "cue 2\n    wash out\n"
                                "cue 3\n    wash xy 0.2 0.5 full\n"));
    const Json& rows = show.table("presets");
    for (const char* channel : {"1", "2", "3"}) CHECK(rows[1].at(channel) == rows[0].at(channel));
    // On scene B the colour is the old one, so the crossfade to cue 3 goes through a mixture.
    const Words kinds = column(show, "losses", "kind");
    CHECK(std::count(kinds.begin(), kinds.end(), "dark") == 2);  // cue 1, from the faders at zero, and cue 3
}

TEST_CASE("the dip of two masters is that of the higher of two straight lines", "[unit][desk]") {
    const auto show =
        test::desk_show(on_desk("cue 1\n    front 80%\ncue 2\n    front 30%\ncue 3 cut\n    front 70%\n"
                                "cue 4 up 4s down 2s\n    front 70%\n    wash 3200K 5%\n",
                                "    crossfade dips\n"));
    const auto dip = [](double a, double b) {
        double least = std::min(a, b);
        for (int i = 0; i <= 100000; ++i) least = std::min(least, std::max(a * (1 - i / 1e5), b * (i / 1e5)));
        return std::min(a, b) - least;
    };
    const Json& rows = show.table("presets");
    CHECK(rows[0].at("dip") == 0);
    CHECK(rows[1].at("dip").get<double>() == Approx(dip(80, 30)).margin(0.011));
    CHECK(rows[2].at("dip") == nullptr);  // a cut has no way on which to dip
    CHECK(rows[3].at("dip").get<double>() == Approx(dip(70, 70)).margin(0.011));
    std::string text = emit::text(show.sheets, show.sheets.sheets.at(1));
    std::replace(text.begin(), text.end(), '\n', ' ');
    CHECK(text.find(
              "Split the masters: bring the incoming one up in 2s, then take the outgoing one down in 2s. "
              "Together they would dip by 35% (channel 5).") != std::string::npos);
    CHECK(column(test::desk_show(on_desk("cue 1\n    front 80%\ncue 2\n    front 30%\n")), "presets",
                 "dip") == Words{"null", "null"});
}

TEST_CASE("each cue is judged by its worst level, its worst colour, its waves and its time", "[unit][desk]") {
    const auto show =
        test::desk_show(on_desk("palette rust  red 93%  blue 7%\n"
                                "wave swell  sine  period 2s\n    intensity  20% .. full\n"
                                "cue 1\n    front 52%\n"
                                "cue 2  follow 1s\n    wash rust full\n"
                                "cue 3\n    front 60%  wave swell\n",
                                "    notch 10%\n"));
    const Json& rows = show.table("fidelity");
    REQUIRE(rows.size() == 3);
    const auto is = [](const Json& value, double wanted) {
        return value.get<double>() == Approx(wanted).margin(0.011);
    };
    CHECK(is(rows[0].at("level_off"), 2));
    CHECK(is(rows[1].at("level_off"), 3));
    CHECK(is(rows[2].at("level_off"), 28));  // 40% for what goes from 12% to 60%
    CHECK(column(show, "fidelity", "channel")[0] == "5");
    CHECK(column(show, "fidelity", "channel")[2] == "5");
    CHECK(column(show, "fidelity", "in_time") == Words{"", "", "no"});
    CHECK(column(show, "fidelity", "waves") == Words{"", "", "swell stands still"});

    // u′ = 4X / (X + 15Y + 3Z), v′ = 9Y / (X + 15Y + 3Z) (CIE 15), of red and blue light added up.
    const auto uv = [](double red, double blue) {
        double u = 0, v = 0, all = 0;
        for (const auto& [x, y, lumens] :
             {std::array{0.690, 0.308, 95 * red}, std::array{0.145, 0.045, 30 * blue}}) {
            const double sum = lumens / y;  // X + Y + Z
            u += 4 * x * sum;
            v += 9 * lumens;
            all += (x + 15 * y + 3 * (1 - x - y)) * sum;
        }
        return std::pair(u / all, v / all);
    };
    const auto [u1, v1] = uv(.93, .07);
    const auto [u2, v2] = uv(.9, .1);
    CHECK(rows[0].at("colour_off") == nullptr);
    CHECK(rows[1].at("fixture") == "wash");
    CHECK(rows[1].at("colour_off").get<double>() == Approx(std::hypot(u1 - u2, v1 - v2)).margin(0.00006));
    CHECK(show.json.at("notes").at("fidelity")[0] ==
          "2 of 3 cues within half a notch. Levels are off by " + rows[2].at("level_off").dump() +
              "% at the most (cue 3). Colours are off by Δu′v′ " + rows[1].at("colour_off").dump() +
              " at the most (cue 2, wash). Hands are too slow for 1 cue.");
}

TEST_CASE("what a hand can set is off by nothing, and a chase by its worst step", "[unit][desk]") {
    const auto show =
        test::desk_show(on_desk("wave swell  sine  period 2s\n    intensity  out .. full\n"
                                "cue 1\n    front 50%\n"
                                "cue 2\n    front full  wave swell\n",
                                "    chases  1 each 2 steps\n"));
    const Json& rows = show.table("fidelity");
    CHECK(rows[0].at("level_off") == 0);
    CHECK(rows[1].at("level_off") == show.table("chases")[0].at("off"));
    CHECK(rows[1].at("level_off").get<double>() >= 25);
    const std::string notes = show.json.at("notes").at("fidelity")[0];
    CHECK(notes.starts_with("1 of 2 cues within half a notch."));
    const std::string text = emit::text(show.sheets, show.sheets.sheets.at(1));
    CHECK(text.find("At the GO: start chase 1.") != std::string::npos);
    CHECK(column(show, "strip", "label")[0] == "wash red");
}

// By hand: steps of 1s that fade in half of it. With crossfades the desk draws it in four steps of half a
// second: 0, full, full, 0. In two it is half way where the show has arrived.
TEST_CASE("a chase with fades shorter than its steps is judged by both", "[unit][desk]") {
    const std::string cues =
        "chase blink  every 1s  fade 500ms  loop\n    step 1  front full\n    step 2  front out\n"
        "cue 1\n    chase blink\n";
    const auto fine = test::desk_show(on_desk(cues, "    chases  1 each 4 steps\n"));
    const Json& four = fine.table("chases")[0];
    CHECK(four.at("steps") == 4);
    CHECK(four.at("fade_s") == .5);
    CHECK(four.at("off").get<double>() <= 0.01);
    CHECK(fine.table("fidelity")[0].at("level_off") == four.at("off"));
    const auto coarse = test::desk_show(on_desk(cues, "    chases  1 each 2 steps\n"));
    const Json& two = coarse.table("chases")[0];
    CHECK(two.at("steps") == 2);
    CHECK(two.at("needed") == 4);
    CHECK(two.at("off").get<double>() == Approx(50).margin(0.02));
    CHECK(coarse.table("fidelity")[0].at("level_off") == two.at("off"));
    // Held at its first step it is off by all of its way.
    const auto held = test::desk_show(on_desk(cues));
    CHECK(held.table("fidelity")[0].at("level_off") == 100);
}

TEST_CASE("the fine byte of a parameter is named once on its label", "[unit][desk]") {
    const auto show = test::desk_show(
        "patch 1/1\n    spot  head\ncue 1\n    spot full\n"
        "desk d\n    layout l  20 channels  2 scenes\n");
    CHECK(column(show, "strip", "label")[1] == "spot pan fine");
}
