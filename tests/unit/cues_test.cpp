#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>
#include <sstream>

#include "compiler/command/compilation.hpp"
#include "compiler/cues/cue_list.hpp"
#include "compiler/cues/picture.hpp"
#include "compiler/show/elements.hpp"
#include "compiler/text/utf8.hpp"

using namespace tallow;

namespace {

constexpr const char* show_text =
    "show \"Two Chairs\"  tallow 1\n"        // 1
    "patch 1/1\n"                            // 2
    "    front 1..4  dimmer\n"               // 3
    "    cyc         strip-4\n"              // 4
    "palette amber  #ffb000\n"               // 5
    "wave ripple  sine  period 6s\n"         // 6
    "    intensity  30% .. full\n"           // 7
    "cue 1  \"Dusk\"  fade 5s  follow 2s\n"  // 8
    "    front 1..3  60%  fade 4s\n"         // 9
    "    cyc  amber 40%\n"                   // 10
    "cue 2  cut  cue-only\n"                 // 11
    "    front 1..2  60%\n"                  // 12
    "    cyc cells  wave ripple\n"           // 13
    "cue 3  \"Gull\"  up 8s  down 4s\n"      // 14
    "    cyc cell 2  emitter red 50%\n"      // 15
    "    front 1, 3  out\n";                 // 16

std::unique_ptr<command::Compilation> compiled(const std::string& selection = "",
                                               const std::string& text = show_text) {
    auto c = command::compile(
        "a.tallow", [&](const std::string&) { return runtime::Result<std::string>(text); }, selection);
    REQUIRE(c.ok());
    std::string errors;
    for (const auto& d : (*c)->sink.sorted()) errors += source::render(d, (*c)->sources);
    INFO(errors);
    REQUIRE_FALSE((*c)->failed());
    return std::move(*c);
}

std::vector<cues::ListedCue> listed(command::Compilation& c) {
    return cues::list_cues(c.show, c.sources, *c.book, 0, std::nullopt);
}

cues::Picture picture(command::Compilation& c, int cues_played) {
    track::Tracker tracker(c.show, *c.book, 0, track::Origins::keep);
    for (int i = 0; i < cues_played; ++i) tracker.next();
    return cues::take_picture({c.show, c.sources, *c.book, tracker}, std::nullopt);
}

}  // namespace

TEST_CASE("a cue list says what really changes", "[unit][cues]") {
    auto c = compiled();
    CHECK(cues::text(c->show, listed(*c)) ==
          "cue 1  \"Dusk\"\n"
          "    fade 5s\n"
          "    follow 2s: cue 2 starts by itself 7s after this GO\n"
          "    front 1..3  60%  fade 4s\n"
          "    cyc  amber  40%\n"
          "\n"
          "cue 2\n"
          "    cut  cue-only\n"
          "    cyc  wave ripple\n"
          "\n"
          "cue 3  \"Gull\"\n"
          "    up 8s  down 4s\n"
          "    front 1, 3  out\n"
          "    cyc cell 1, cyc cell 3..4  wave ripple ends\n"
          "    cyc cell 2  red 50%  wave ripple ends\n");
}

TEST_CASE("a picture names the line of each value, also under a wave", "[unit][cues]") {
    auto c = compiled();
    CHECK(cues::text(c->show, c->sources, picture(*c, 2)) ==
          "cue 2\n"
          "front 1..2\n"
          "    60%  (cue 2, a.tallow:12)\n"
          "front 3\n"
          "    60%  (cue 1, a.tallow:9)\n"
          "cyc\n"
          "    amber  (cue 1, a.tallow:10)\n"
          "    40%  (cue 1, a.tallow:10)\n"
          "    wave ripple  (cue 2, a.tallow:13)\n"
          "4 lit, 1 dark; of the dark ones 0 preset, 0 with a wave running\n");
}

TEST_CASE("a selection is followed through the cues that change it", "[unit][cues]") {
    auto c = compiled("front 3");
    CHECK(cues::short_text(c->show, c->sources,
                           cues::list_cues(c->show, c->sources, *c->book, 0, c->selected)) ==
          "cue 1  front 3  60%  fade 4s  (cue 1, a.tallow:9)\n"
          "cue 3  front 3  out  (cue 3, a.tallow:16)\n");
}

TEST_CASE("lists and pictures are read back from JSON", "[unit][cues]") {
    auto c = compiled();
    const auto list = nlohmann::json::parse(cues::json(c->show, c->sources, listed(*c)));
    CHECK(list.at("list").at(0).at("next").at("after_go_ms") == 7000);
    CHECK(list.at("list").at(1).at("next").is_null());
    CHECK(list.at("list").at(2).at("times").at("down_ms") == 4000);
    const auto state = nlohmann::json::parse(cues::json(c->show, c->sources, picture(*c, 1)));
    const auto& level = state.at("groups").at(0).at("values").at(0);
    CHECK(level.at("levels").at("intensity") == 39321);  // floor(65535 · 0.6 + 1/2)
    CHECK(level.at("from").at("line") == 9);
}

// By the range that a value lies in: what a colour makes of a wheel, and levels. Measures stay as written.
TEST_CASE("values in a named range are named", "[unit][cues]") {
    const std::string text =
        "type spot\n"
        "    wheel disc  open 0..9 6500K  deep-blue 20..29 xy 0.15 0.08  spin 128..255\n"
        "    range strobe  open 0..9  rate 10..255 is 1Hz..20Hz\n    range iris  0..99  wide 100..255\n"
        "    mode m  intensity disc strobe iris\n"
        "patch 1/1\n    spot 1..2  spot\npalette deep  xy 0.15 0.08\n"
        "cue 1  cut\n    spot  deep 50%  strobe 4Hz  iris 10%\n"
        "cue 2  cut\n    spot  disc 70%  strobe 50%  iris wide\n"
        "cue 3  cut\n    spot 1  disc spin\n    spot 2  disc open  strobe open\n";
    auto c = compiled("", text);
    const std::string list = cues::text(c->show, listed(*c));
    CHECK(list.find("spot 1..2  50%  disc deep-blue  strobe 4Hz  iris 10%\n") != std::string::npos);
    CHECK(list.find("spot 1..2  disc spin (70%)  strobe rate (50%)  iris wide\n") != std::string::npos);
    CHECK(list.find("spot 1  disc spin\n    spot 2  disc open  strobe open\n") != std::string::npos);
    const std::string state = cues::text(c->show, c->sources, picture(*c, 1));
    CHECK(state.find("    disc deep-blue  (cue 1, a.tallow:10)\n") != std::string::npos);
    const auto json = nlohmann::json::parse(cues::json(c->show, c->sources, picture(*c, 2)));
    const auto& disc = json.at("groups").at(0).at("values").at(1);
    CHECK(disc.at("what") == "disc");
    CHECK(disc.at("text") == "disc spin (70%)");
    CHECK(disc.at("levels").at("disc") == 45875);  // floor(65535 · 0.7 + 1/2)
}

TEST_CASE("every list has its own cues, and chases stand where waves do", "[unit][cues]") {
    auto c = compiled("", R"(patch 1/1
    front 1..3  dimmer
chase knock  every 1s  loop
    step 1  front 1, 2  full
    step 2  front 3     full
cue 1  cut  follow 1s
    front 1  20%
cue 2  cut
    chase knock
list side "Side lamps"
cue 1  cut  timecode 00:00:10:05
    front 1..3  10% .. 30%
cue 2  cut  follow
)");
    const auto side = cues::list_cues(c->show, c->sources, *c->book, 1, std::nullopt);
    CHECK(cues::text(c->show, listed(*c)) + cues::text(c->show, side) ==
          "cue 1\n"
          "    cut\n"
          "    follow 1s: cue 2 starts by itself 1s after this GO\n"
          "    front 1  20%\n"
          "\n"
          "cue 2\n"
          "    cut\n"
          "    front 1..3  chase knock\n"
          "list side \"Side lamps\"\n"
          "\n"
          "cue 1\n"
          "    cut\n"
          "    timecode 00:00:10:05\n"
          "    front 1  10%\n"
          "    front 2  20%\n"
          "    front 3  30%\n"
          "\n"
          "cue 2\n"
          "    cut\n"
          "    follow 0s: no cue is left to start\n"
          "    changes nothing\n");
    const auto json = nlohmann::json::parse(cues::json(c->show, c->sources, side));
    CHECK(json.at("list").at(0).at("list") == "side");
    CHECK(json.at("list").at(0).at("timecode") == "00:00:10:05");
    CHECK(json.at("list").at(1).at("next").at("cue").is_null());
    const cues::Picture after = picture(*c, 2);
    CHECK(after.lit == 3);  // by the chase, which shows front 1 over its level of 20%
    CHECK(cues::text(c->show, c->sources, after).find("chase knock  (cue 2, a.tallow:9)") !=
          std::string::npos);
}

TEST_CASE("a cue list keeps to 80 columns", "[unit][cues]") {
    auto c = compiled();
    c->show.cues[0].note =
        "a long note, of many words, that goes on and on until the paper is too narrow for it";
    std::istringstream lines(cues::text(c->show, listed(*c)));
    std::size_t widest = 0;
    for (std::string line; std::getline(lines, line);) widest = std::max(widest, text::width(line));
    CHECK(widest <= 80);
    CHECK(widest > 70);
}
