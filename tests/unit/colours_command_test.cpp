// `tallow colours`: what palettes come to, as text, JSON and a diagram.
#include <algorithm>
#include <catch2/catch.hpp>
#include <chrono>
#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "compiler/colour/cct.hpp"
#include "compiler/colour/srgb.hpp"
#include "compiler/colour/temperature.hpp"
#include "compiler/palettes/labels.hpp"
#include "runtime/files.hpp"
#include "tests/support/command.hpp"
#include "tests/support/made_frames.hpp"

using namespace tallow;

namespace {

using Json = nlohmann::json;

// Two equal lamps of two emitters on a line, one of half the flux and of 16 bits; filters; a wheel.
const std::string rig =
    "type wash\n    emitter red  xy 0.6 0.3  60 lm\n    emitter green  xy 0.3 0.6  120 lm\n"
    "    mode m   red green\n"
    "type small\n    emitter red  xy 0.6 0.3  30 lm\n    emitter green  xy 0.3 0.6  60 lm\n"
    "    mode m   red red.fine green green.fine\n"
    "type scene\n    filters  cyan magenta yellow\n    mode m   intensity cyan magenta yellow\n"
    "type old\n    wheel disc  open 0..9 6500K  amber 10..19 #ffb000\n    mode m   intensity disc\n"
    "patch 1/1\n    a 1..2 wash\n    b 1 small\n    c scene\n    d old\n";

test::Ran colours(const std::string& show, const std::string& more) {
    const std::string path = test::scratch("colours.tallow");
    REQUIRE(runtime::write_file(path, show).ok());
    return test::run(test::quoted(TALLOW_COMMAND) + " colours " + test::quoted(path) + " " + more +
                     " 2> /dev/null");
}

Json report(const std::string& show, const std::string& more = "") {
    const test::Ran ran = colours(show, "--json " + more);
    REQUIRE(ran.code == 0);
    return Json::parse(ran.out);
}

const Json& on(const Json& entry, const std::string& kind) {
    const auto& all = entry["on"];
    const auto at = std::find_if(all.begin(), all.end(), [&](const Json& j) { return j["kind"] == kind; });
    REQUIRE(at != all.end());
    return *at;
}

std::size_t count(const std::string& text, const std::string& part) {
    std::size_t n = 0;
    for (std::size_t at = text.find(part); at != std::string::npos; at = text.find(part, at + 1)) ++n;
    return n;
}

}  // namespace

// By hand: red full and green 50 % of 60 and 120 lm are 60 lm each; X + Y + Z is 60/.3 = 200 and 60/.6 = 100,
// so x = (200·.6 + 100·.3)/300 = .5 and y = 120/300 = .4.
TEST_CASE("named emitters come to the light of their sum", "[unit][colours]") {
    const Json all = report(rig + "palette two  red full  green 50%\n");
    const Json& entry = all["list"][0];
    CHECK(entry["target"].is_null());
    CHECK(entry["on"].size() == 2);
    const Json& wash = on(entry, "wash");
    CHECK(wash["light"]["x"].get<double>() == Approx(.5).margin(2e-5));
    CHECK(wash["light"]["y"].get<double>() == Approx(.4).margin(2e-5));
    CHECK(wash["light"]["u"].get<double>() == Approx(2 / 6.8).margin(2e-5));    // 4x / (−2x + 12y + 3)
    CHECK(wash["light"]["v"].get<double>() == Approx(3.6 / 6.8).margin(2e-5));  // 9y / (−2x + 12y + 3)
    CHECK(wash["lumens"].get<double>() == Approx(120).margin(.01));
    CHECK(wash["off"].is_null());
    CHECK(wash["relative"] == 1);
    CHECK(on(entry, "small")["relative"].get<double>() == Approx(.5).margin(1e-5));
    CHECK(wash["levels"][1] ==
          Json{{"name", "green"}, {"percent", 50.001}, {"slot_8", 128}, {"slot_16", nullptr}});
    CHECK(on(entry, "small")["levels"][1]["slot_16"] == 32768);
    CHECK(entry["agree"] == Json::array({Json::array({"wash", "small"})}));
}

// Two emitters reach colours on their line alone; filters whatever lies in the sRGB triangle; a wheel its
// slots.
TEST_CASE("a target is reached or missed by each kind", "[unit][colours]") {
    const Json all = report(rig + "palette amber  #ffb000\npalette far  xy 0.2 0.1\n");
    const Json& amber = all["list"][0];
    CHECK(on(amber, "old")["wheel"] == "amber");
    CHECK(on(amber, "old")["off"] == 0);
    CHECK(on(amber, "old")["rounding_8"].is_null());
    CHECK(on(amber, "old")["levels"][0]["slot_8"] == 14);
    CHECK(on(amber, "scene")["off"].get<double>() < 1e-6);
    CHECK(on(amber, "scene")["lumens"].is_null());
    CHECK(on(amber, "scene")["levels"][2]["percent"].get<double>() == Approx(100).margin(.01));
    const Json& far = all["list"][1];
    CHECK(on(far, "wash")["off"].get<double>() > .1);
    // From u′ .2105 v′ .2368: the wheel's 6500 K (.198 .468) is .231 away, the line red–green .27.
    CHECK(far["agree"] == Json::parse(R"([["scene"], ["old"], ["wash", "small"]])"));
}

TEST_CASE("rounding says how far it moves the light", "[unit][colours]") {
    const Json all = report(rig +
                            "desk strip\n    notch 40%\n    layout a  12 channels\n"
                            "desk fine\n    notch 50%\n    layout a  12 channels\n"
                            "palette two  red full  green 50%\npalette dim  red 15%\n");
    const Json& wash = on(all["list"][0], "wash");
    // 8 bits: green is 128/255, 60.235 lm: X + Y + Z is 200 + 100.392, x = 150.118/300.392, y =
    // 120.235/300.392.
    const double slight = colour::distance_uv(colour::Chromaticity{.5, .4},
                                              colour::Chromaticity{150.118 / 300.392, 120.235 / 300.392});
    CHECK(wash["rounding_8"].get<double>() == Approx(slight).margin(5e-6));
    CHECK(wash["rounding_desks"]["fine"].get<double>() < 1e-4);
    // Notches of 40 %: green goes to 40 %, 48 lm: X + Y + Z is 200 + 80, x = 144/280, y = 108/280.
    const double moved =
        colour::distance_uv(colour::Chromaticity{.5, .4}, colour::Chromaticity{144. / 280, 108. / 280});
    CHECK(wash["rounding_desks"]["strip"].get<double>() == Approx(moved).margin(5e-5));
    CHECK(on(all["list"][1], "wash")["rounding_desks"]["strip"].is_null());  // dark
    CHECK(report(rig + "desk strip\n    layout a  12 channels\ndesk b\n    layout a  12 channels\n"
                       "palette p #ff0000\n",
                 "--desk b")["desks"]
              .size() == 1);
    CHECK(colours(rig + "palette p #ff0000\n", "--desk none").code == 2);
}

TEST_CASE("a balanced group keeps the light of its darkest kind", "[unit][colours]") {
    const Json all = report(rig + "group stage  a, b  balanced\npalette p  xy 0.5 0.4\n");
    const Json& entry = all["list"][0];
    CHECK(on(entry, "wash in stage")["kept"].get<double>() == Approx(.5).margin(1e-5));
    CHECK(on(entry, "small in stage")["kept"] == 1);
    CHECK(on(entry, "wash in stage")["lumens"] == on(entry, "small in stage")["lumens"]);
    CHECK(colours(rig + "group stage  a, b  balanced\npalette p  xy 0.5 0.4\n", "").out.find("kept 50.0%") !=
          std::string::npos);
}

TEST_CASE("palettes stand as declared, with their own lines, before colours of lines", "[unit][colours]") {
    const Json list = report(rig +
                             "palette z  #ff0000\n    a 2  #00ff00\npalette w  2700K\n"
                             "cue 1 cut\n    a full #0000ff\n    b 1 #0000ff\n")["list"];
    REQUIRE(list.size() == 4);
    CHECK(list[0]["name"] == "z");
    CHECK(list[1]["fixtures"] == Json{"a 2"});
    CHECK(list[1]["on"].size() == 1);
    CHECK(list[2]["name"] == "w");
    CHECK(list[3]["name"] == "#0000ff");
    CHECK(list[3]["palette"] == false);
    CHECK(list[3]["on"].size() == 2);
}

TEST_CASE("a kind whose fixtures all have lines of their own is named in those alone", "[unit][colours]") {
    const Json list = report(rig + "palette z  #ff0000\n    b 1  #00ff00\n")["list"];
    REQUIRE(list.size() == 2);
    CHECK(list[0]["agree"].dump().find("small") == std::string::npos);
    CHECK(list[0]["on"].size() == 3);
    CHECK(list[1]["on"].size() == 1);
}

TEST_CASE("names on the diagram keep off each other, and inside", "[unit][colours]") {
    palettes::Labels labels({0, 0, 400, 400});
    std::vector<palettes::Box> boxes;
    std::size_t left_out = 0;
    for (int i = 0; i < 60; ++i) {
        const auto at = labels.place({200, 200}, "name", 10);
        if (!at) {
            ++left_out;
            continue;
        }
        const double width = palettes::text_width("name", 10);
        const double left = at->near.x - (at->anchor == "end"      ? width
                                          : at->anchor == "middle" ? width / 2
                                                                   : 0);
        const palettes::Box box{left, at->near.y - 5, left + width, at->near.y + 5};
        for (const palettes::Box& other : boxes)
            CHECK((box.left >= other.right || other.left >= box.right || box.top >= other.bottom ||
                   other.top >= box.bottom));
        boxes.push_back(box);
    }
    CHECK(boxes.size() > 8);
    CHECK(left_out > 0);
    CHECK_FALSE(labels.place({500, 200}, "name", 10));
}

// The locus itself: a black body's temperature comes back, and Duv is 0.
TEST_CASE("whites have a colour temperature", "[unit][colours]") {
    for (const double kelvin : {1200., 2700., 4321., 6500., 20000.}) {
        const auto found = colour::correlated_temperature(colour::planckian_locus(kelvin));
        REQUIRE(found);
        CHECK(found->kelvin == Approx(kelvin).epsilon(1e-4));
        CHECK(found->duv == Approx(0).margin(1e-6));
    }
    // Illuminant D65 (CIE 15): 6503 or 6504 K, Duv .0032.
    const auto d65 = colour::correlated_temperature({.31272, .32903});
    REQUIRE(d65);
    CHECK(d65->kelvin == Approx(6503).margin(2));
    CHECK(d65->duv == Approx(.0032).margin(.0001));
    CHECK_FALSE(colour::correlated_temperature({.17, .08}));
    const Json list = report(rig + "palette warm  3000K\npalette blue  #0000ff\n")["list"];
    CHECK(on(list[0], "scene")["kelvin"].get<double>() == Approx(3000).margin(2));
    CHECK(on(list[1], "scene")["kelvin"].is_null());
}

TEST_CASE("a colour comes back from its coded values", "[unit][colours]") {
    const auto c = colour::coded({1, .5, 0});  // half of the light is coded 188 (IEC 61966-2-1)
    CHECK((c.r == 255 && c.g == 188 && c.b == 0));
}

// `~` behind the kind, in its own place: a name as long as the column goes on below.
TEST_CASE("what rests on typical emitters is marked", "[unit][colours]") {
    const std::string show = rig +
                             "    e par-rgb\n    f par-white\ngroup stage  b, f  balanced\n"
                             "type half\n    emitter red  xy 0.69 0.31  90 lm\n    mode m  red blue\n"
                             "patch 2/1\n    g half\n"
                             "palette amber  #ffb000\npalette two  red full\npalette none  green 0%\n"
                             "cue 1\n    a, e  amber 50%\n";
    const Json all = report(show);
    CHECK(all["typical"] == Json::parse(R"([{"type": "par-rgb", "colours": ["amber"]},
                                            {"type": "par-white", "colours": []},
                                            {"type": "half", "colours": []}])"));
    const Json &amber = all["list"][0], &two = all["list"][1], &no_light = all["list"][2];
    CHECK(on(amber, "wash")["typical"] == false);
    CHECK(on(amber, "small in stage")["typical"] == true);
    CHECK(on(amber, "scene")["typical"] == false);
    CHECK(on(amber, "old")["typical"] == false);
    CHECK(on(amber, "par-rgb")["typical"] == true);
    CHECK(on(two, "small in stage")["typical"] == false);
    CHECK(on(two, "par-rgb")["typical"] == true);
    CHECK(on(amber, "half")["typical"] == true);
    CHECK(on(two, "half")["typical"] == false);
    CHECK(on(no_light, "par-rgb")["typical"] == false);
    const std::string table = colours(show, "").out;
    CHECK(table.find("~: rests on typical emitters, not measured ones:\n    par-rgb: amber\n"
                     "    par-white: no colour of this show\n    half: no colour of this show\n"
                     "approximate, by ideal filters before a white lamp: scene\n") != std::string::npos);
    CHECK(table.find("\n  par-rgb ~ ") != std::string::npos);
    CHECK(table.find("\n  wash ~") == std::string::npos);
    CHECK(colours(show, "--svg -").out.find(">par-rgb ~: typical emitters<") != std::string::npos);
}

TEST_CASE("colours that only waves show are listed", "[unit][colours]") {
    const Json list = report(rig +
                             "wave dusk  sine  period 4s\n    colour  #ffb000 .. 2700K\n"
                             "cue 1\n    a  3000K 50%\n    a  wave dusk\n")["list"];
    REQUIRE(list.size() == 3);
    CHECK(list[1]["name"] == "#ffb000");
    CHECK(list[2]["name"] == "2700K");
    CHECK(list[2]["on"].size() == 1);
}

TEST_CASE("emitters without visible light come to none", "[unit][colours]") {
    const std::string show = "type dark\n    mode m  uv\npatch 1/1\n    a dark\npalette p  #ffb000\n";
    const Json entry = report(show)["list"][0];
    CHECK(on(entry, "dark")["light"].is_null());
    CHECK(on(entry, "dark")["off"].is_null());
    CHECK(on(entry, "dark")["kelvin"].is_null());
    CHECK(colours(show, "").out.find("no light that shows") != std::string::npos);
}

// A name and its level are never parted.
TEST_CASE("a long list of levels is cut behind commas", "[unit][colours]") {
    std::string type = "type long\n", mode = "    mode m ";
    for (int i = 0; i < 30; ++i) {
        type += fmt::format("    emitter e{} xy 0.{} 0.3 10 lm\n", i, 200 + i);
        mode += fmt::format(" e{}", i);
    }
    const std::string out = colours(type + mode + "\npatch 1/1\n    a long\npalette p  xy 0.3 0.3\n", "").out;
    CHECK(count(out, "\n      e") > 3);
    CHECK(count(out, "%\n") == 0);
    CHECK(out.find("),\n      e") != std::string::npos);
    for (std::size_t from = 0; from < out.size(); from = out.find('\n', from) + 1)
        CHECK(out.find('\n', from) - from <= 80);
}

TEST_CASE("the table keeps to 80 columns", "[unit][colours]") {
    const std::string out = colours(rig + "palette amber  #ffb000\npalette two  red full\n", "").out;
    CHECK(out.find("palette amber: x 0.4886 y 0.4503") != std::string::npos);
    CHECK(out.find("palette two: named emitters") != std::string::npos);
    CHECK(out.find("wheel amber: disc 5.5% (14)") != std::string::npos);
    for (std::size_t from = 0; from < out.size();) {
        const std::size_t to = out.find('\n', from);
        CHECK(to - from <= 80);
        from = to + 1;
    }
}

TEST_CASE("the diagram is well-formed, and the same each time", "[unit][colours]") {
    const std::string show =
        "show \"A & <B> 'c'\"\n" + rig + "palette amber  #ffb000\npalette far  xy 0.2 0.1\n";
    const std::string svg = colours(show, "--svg -").out;
    CHECK(svg == colours(show, "--svg -").out);
    CHECK(svg.find("<title>A &amp; &lt;B&gt; &#39;c&#39;: colours</title>") != std::string::npos);
    CHECK(svg.find("<B>") == std::string::npos);
    CHECK(count(svg, ">amber</text>") == 1);
    const std::string path = test::scratch("colours.svg");
    const test::Ran ran = colours(show, "--svg " + test::quoted(path));
    CHECK(ran.out == colours(show, "").out);
    CHECK(runtime::read_file(path, 1 << 20).ok());
    CHECK(*runtime::read_file(path, 1 << 20) == svg);
    if (test::installed("python3"))
        CHECK(test::run("python3 -c 'import sys, xml.dom.minidom; xml.dom.minidom.parse(sys.argv[1])' " +
                        test::quoted(path))
                  .code == 0);
}

// A type of ultraviolet alone has no wheel; what is longer than its place ends in dots.
TEST_CASE("the diagram's legend and title keep to the page", "[unit][colours]") {
    const std::string name(60, 'n'), title(90, 'T');
    const std::string svg = colours("show \"" + title + "\"\ntype " + name +
                                        "\n    mode m  red green blue\ntype dark\n    mode m  uv\n"
                                        "patch 1/1\n    a " +
                                        name + "\n    b dark\npalette p  #ffb000\n",
                                    "--svg -")
                                .out;
    CHECK(svg.find("nnn... ~: typical emitters<") != std::string::npos);
    CHECK(svg.find(">dark: no light that shows<") != std::string::npos);
    CHECK(svg.find("TTT...: colours</text>") != std::string::npos);
    CHECK(palettes::cut_to(60, "abcdefghij", 10) == "abcdefghij");  // six to a sign
    CHECK(palettes::cut_to(59, "abcdefghij", 10) == "abcdef...");
    CHECK(palettes::cut_to(40, "ääääääääää", 10) == "äää...");
}

TEST_CASE("thousands of palettes end in time", "[unit][colours]") {
    std::string show = rig;
    for (int i = 0; i < 3000; ++i) show += fmt::format("palette p{}  #{:02x}{:02x}ff\n", i, i % 256, i / 12);
    const std::string path = test::scratch("many.svg");
    const auto start = std::chrono::steady_clock::now();
    CHECK(colours(show, "--svg " + test::quoted(path)).code == 0);
    CHECK(std::chrono::steady_clock::now() - start < std::chrono::seconds(30));
    CHECK(runtime::read_file(path, 1 << 26)->find("no room for ") != std::string::npos);
}
