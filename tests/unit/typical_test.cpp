// What rests on typical emitters: said for each type, with what of the show it concerns.
#include "compiler/check/typical.hpp"

#include <catch2/catch.hpp>

#include "compiler/command/compilation.hpp"

using namespace tallow;

namespace {

const std::string types =
    "type own\n    emitter red  xy 0.69 0.308  95 lm\n    emitter green  xy 0.19 0.715  150 lm\n"
    "    emitter blue  xy 0.145 0.045  30 lm\n    mode m  red green blue\n"
    "type half\n    emitter red  xy 0.69 0.308  95 lm\n    emitter green  xy 0.19 0.715  150 lm\n"
    "    emitter blue  xy 0.145 0.045\n    mode m  red green blue\n"  // a typical flux
    "type violet\n    emitter red  xy 0.69 0.308  95 lm\n    mode m  red uv\n"
    "type scene\n    filters cyan magenta yellow\n    mode m  intensity cyan magenta yellow\n"
    "type disc\n    wheel disc  open 0..9 6500K\n    mode m  intensity disc\n";

// The remark on a show, without its indent.
std::string remark(const std::string& text) {
    const std::string whole = types + text;
    auto c =
        command::compile("a.tallow", [&](const std::string&) { return runtime::Result<std::string>(whole); });
    REQUIRE(c.ok());
    REQUIRE_FALSE((*c)->failed());
    return check::render((*c)->summary.typical, (*c)->show);
}

}  // namespace

TEST_CASE("only types in use with emitters that show and are not measured are typical", "[unit][colours]") {
    CHECK(remark("patch 1/1\n    a own\n    b violet\n    c scene\n    d disc\n    e dimmer\n"
                 "palette p  #ffb000\ncue 1\n    a, b, c, d  p 50%\n") == "");
    CHECK(remark("patch 1/1\n    a half\n    b par-rgb\npalette p  #ffb000\ncue 1\n    a  p 50%\n") ==
          "    par-rgb: no colour of this show\n    half: p\n");
}

// Palettes by their names, also where a line of theirs speaks; colours as written; each once.
TEST_CASE("what the show puts on a type is named once, as it first comes", "[unit][colours]") {
    CHECK(remark("patch 1/1\n    front 1..4 par-rgb\n    own 1..2 own\n"
                 "palette p  #ffb000\n    front 2  #ffc000\npalette q  2700K\npalette unused  #00ff00\n"
                 "palette named  red full\npalette of-own  #ff00ff\npalette in-chase  #ff4000\n"
                 "wave dusk  sine  period 6s\n    colour  q .. 3200K\n"
                 "wave turn  rise  period 6s\n    hue  0deg .. 40deg\n"
                 "chase c  every 1s\n    step 1  front 1  in-chase full\n    step 2  front 2  q\n"
                 "submaster 1 \"Hand\"\n    front  hue 30deg 50%\n"
                 "cue 1\n    front  p 50%\n    own  of-own 50%\n    front 1  named\n"
                 "cue 2\n    front  p 60%\n    front 3..4  wave turn\ncue 3\n    front 1..2  wave dusk\n") ==
          "    par-rgb: p, q, 3200K, in-chase, hue 30deg and 1 more\n");
}

TEST_CASE("a long list of colours is cut", "[unit][colours]") {
    std::string show = "patch 1/1\n    front 1..9 par-rgb\n", cue = "cue 1\n";
    for (int i = 1; i <= 9; ++i) {
        show += "palette a-palette-" + std::to_string(i) + "  2" + std::to_string(i) + "00K\n";
        cue += "    front " + std::to_string(i) + "  a-palette-" + std::to_string(i) + " 50%\n";
    }
    CHECK(remark(show + cue) ==
          "    par-rgb: a-palette-1, a-palette-2, a-palette-3, a-palette-4, a-palette-5\n"
          "        and 4 more\n");
}

// A measured type in a group keeps no more light than the typical ones beside it have.
TEST_CASE("in a balanced group colours rest on the emitters of all its types", "[unit][colours]") {
    const std::string show = "patch 1/1\n    a own\n    b par-rgb\npalette p  #ffb000\ncue 1\n    a  p 50%\n";
    CHECK(remark(show) == "    par-rgb: no colour of this show\n");
    CHECK(remark("group stage  a, b  balanced\n" + show) == "    par-rgb: p\n");
}
