// One mistake, one error: a show without fault, and one line of it changed at a time.
#include <algorithm>
#include <catch2/catch.hpp>
#include <filesystem>
#include <nlohmann/json.hpp>

#include "runtime/files.hpp"
#include "runtime/roll/roll_io.hpp"
#include "tests/suite/section.hpp"
#include "tests/support/command.hpp"

using namespace tallow;

namespace {

const std::string right_show = R"(show "The Winter Ferry"  tallow 1
    refresh   40Hz
    defaults  fade 5s
type tri "Small three-colour par"
    emitter  red    xy 0.690 0.308   95 lm
    emitter  green  xy 0.190 0.715  150 lm
    emitter  blue   xy 0.145 0.045   30 lm
    mode     rgb    red green blue
    mode     six    red green blue intensity strobe
    range    strobe   open 0..9    rate 10..255 is 1Hz..20Hz
    home     strobe open
patch 1/1
    front 1..4      tri rgb
    side 1..2       tri six
    cyc 1..3        strip-6
    practical       dimmer   at 1/500
    mover           head
group wash       front, side
group row        cyc cells
group inner      all except practical
palette amber        #ffb000
palette deep-water   blue full  green 20%
palette doorway      pan 12deg  tilt -30deg
look harbour
    front      amber 60%
    cyc        deep-water 80%
wave ripple   sine  period 6s  wavelength 8
    intensity   30% .. full
cue 1    "House to half"    fade 5s
    practical  50%
cue 2    "First light"      up 8s  down 4s
    on        "the ferry's horn"
    look harbour
cue 3    "Storm"            fade 2s  next-at 10s
    row       amber 40% wave ripple
    wash      amber 30%
    mover     doorway 3200K 40%
cue 4    "Strike"           cut  cue-only
    inner     out
    side      strobe 4Hz
)";

struct Mistake {
    const char *right, *wrong;
    unsigned line, column;
    const char* id;
};

const Mistake mistakes[] = {
    {"tallow 1", "tallow 7", 1, 26, "later-edition"},
    {"\"The Winter Ferry\"", "The Winter Ferry", 1, 6, "label-quotes"},
    {"40Hz", "40", 2, 15, "missing-unit"},
    {"fade 5s\ntype", "fade 5\ntype", 3, 20, "missing-unit"},
    {"type tri", "typ tri", 4, 1, "unknown-declaration"},
    {"95 lm", "95 W", 5, 38, "wrong-unit"},
    {"0.690 0.308", "0,690 0,308", 5, 25, "decimal-comma"},
    {"rgb    red green blue", "rgb    red, green, blue", 8, 24, "unexpected"},
    {"red green blue intensity strobe\n", "red green blue red strobe\n", 9, 36, "slot-twice"},
    {"open 0..9 ", "open 9..0 ", 10, 23, "bad-range"},
    {"strobe open\npatch", "shutter open\npatch", 11, 14, "unknown-name"},
    {"patch 1/1", "patch 1/700", 12, 9, "out-of-range"},
    {"patch 1/1", "pacth 1/1", 12, 1, "unknown-declaration"},
    {"patch 1/1", "patch 1", 12, 8, "expected"},
    {"front 1..4 ", "front 1-4 ", 13, 11, "range-dots"},
    {"tri rgb\n", "tri rgbw\n", 13, 25, "unknown-name"},
    {"tri rgb\n", "ti rgb\n", 13, 21, "unknown-name"},
    {"front 1..4      tri", "4 front      tri", 13, 5, "expected"},
    {"    practical       dimmer   at 1/500", "    practical       dimmer   at 1/4", 16, 5, "overlap"},
    {"    practical       dimmer   at 1/500", "practical       dimmer   at 1/500", 16, 1, "at-margin"},
    {"group wash       front, side", "group wash       front, sides", 18, 25, "unknown-name"},
    {"row        cyc cells", "row        front cells", 19, 24, "no-such-cell"},
    {"#ffb000", "#ffb00", 21, 22, "joined-hash"},
    {"palette amber", "pallette amber", 21, 1, "unknown-declaration"},
    {"blue full", "blau full", 22, 22, "unknown-name"},
    {"tilt -30deg", "tilt -30", 23, 38, "missing-unit"},
    {"look harbour\n    front", "look harbour\n\n    frnt", 26, 5, "unknown-name"},
    {"amber 60%", "amber 60", 25, 22, "missing-unit"},
    {"amber 60%", "", 25, 5, "no-setting"},
    {"sine  period", "sin  period", 27, 15, "expected"},
    {"period 6s", "period 6", 27, 28, "missing-unit"},
    {"30% .. full", "30% full", 28, 21, "expected"},
    {"cue 1    \"House to half\"", "cue 1    House to half", 29, 10, "label-quotes"},
    {"House to half\"", "House to half", 29, 10, "open-string"},
    {"practical  50%", "practical  50", 30, 16, "no-such-fixture"},
    {"practical  50%", "practical  amber 50%", 30, 16, "cannot-take"},
    {"up 8s", "up 8m", 31, 32, "wrong-unit"},
    {"look harbour\ncue", "look harbor\ncue", 33, 10, "unknown-name"},
    {"cue 3 ", "cue 2 ", 34, 5, "cue-twice"},
    {"cue 3 ", "cue 3,5 ", 34, 5, "decimal-comma"},
    {"wave ripple\n    wash", "wave rippel\n    wash", 35, 30, "unknown-name"},
    {"wash      amber 30%", "wash      amber 130%", 36, 21, "out-of-range"},
    {"    wash      amber", "wash      amber", 36, 1, "at-margin"},
    {"mover     doorway", "mover 2   doorway", 37, 11, "no-such-fixture"},
    {"cut  cue-only", "cut fade 3s cue-only", 38, 38, "timing-clash"},
    {"strobe 4Hz", "strobe 40Hz", 40, 15, "cannot-take"},
    {"strobe 4Hz", "strobe 4Hz #note", 40, 26, "joined-hash"},
};

std::string with(const Mistake& m) {
    std::string text = right_show;
    const std::size_t at = text.find(m.right);
    REQUIRE(at != std::string::npos);
    return text.replace(at, std::string(m.right).size(), m.wrong);
}

std::vector<source::Diagnostic> errors(const command::Compilation& c) {
    std::vector<source::Diagnostic> found;
    for (const source::Diagnostic& d : c.sink.sorted())
        if (source::info(d.finding).severity == source::Severity::error) found.push_back(d);
    return found;
}

std::unique_ptr<command::Compilation> compiled(std::string text) {
    return test::compile_section({"", {{"show.tallow", std::move(text)}}});
}

}  // namespace

TEST_CASE("the show without a mistake has no finding", "[unit][show]") {
    CHECK(compiled(right_show)->sink.sorted().empty());
}

TEST_CASE("one mistake is one error at its line and column", "[unit][show]") {
    for (const Mistake& m : mistakes) {
        const auto c = compiled(with(m));
        std::string all;
        for (const auto& d : c->sink.sorted()) all += source::render(d, c->sources);
        INFO("`" << m.right << "` became `" << m.wrong << "`\n" << all);
        const auto found = errors(*c);
        CHECK(found.size() == 1);
        if (found.empty()) continue;
        const auto at = c->sources.position(found[0].where.file, found[0].where.begin);
        CHECK(at.line == m.line);
        CHECK(at.column == m.column);
        CHECK(source::info(found[0].finding).id == m.id);
    }
}

TEST_CASE("line ends, a byte-order mark, tabs and trailing blanks leave the show as it is", "[unit][show]") {
    const auto as_roll = [](const std::string& text) {
        const auto c = compiled(text);
        REQUIRE(c->sink.sorted().empty());
        return runtime::write_roll(command::make_roll(*c));
    };
    const std::string plain = as_roll(right_show);
    std::string crlf, tabs, blanks;
    for (std::size_t i = 0; i < right_show.size(); ++i) {
        crlf += right_show[i] == '\n' ? std::string("\r\n") : std::string(1, right_show[i]);
        blanks += right_show[i] == '\n' ? std::string(" \t \n\n") : std::string(1, right_show[i]);
        const bool indent =
            right_show[i] == ' ' && (i == 0 || right_show[i - 1] == '\n' || right_show[i - 1] == ' ');
        tabs += indent ? '\t' : right_show[i];
    }
    CHECK(as_roll(crlf) == plain);
    CHECK(as_roll(blanks) == plain);
    CHECK(as_roll(tabs) == plain);
    CHECK(as_roll("\xef\xbb\xbf" + right_show) == plain);
    CHECK(as_roll(right_show.substr(0, right_show.size() - 1)) == plain);
}

TEST_CASE("tallow check finds eight mistakes of eight, as text and as JSON", "[unit][command]") {
    const std::string path = TALLOW_BUILD_DIR "/eight-mistakes.tallow";
    std::string text = right_show;
    std::vector<std::string> places;
    for (const char* const wrong : {"The Winter Ferry", "40", "front 1-4 ", "#ffb00", "sin  period",
                                    "practical  50", "cue 3,5 ", "strobe 40Hz"}) {
        const Mistake& m = *std::find_if(std::begin(mistakes), std::end(mistakes),
                                         [&](const Mistake& one) { return one.wrong == std::string(wrong); });
        text.replace(text.find(m.right), std::string(m.right).size(), m.wrong);
        places.push_back(path + ":" + std::to_string(m.line) + ":" + std::to_string(m.column) + ": error: ");
    }
    REQUIRE(runtime::write_file(path, text).ok());
    const std::string tallow = test::quoted(TALLOW_COMMAND) + " check " + test::quoted(path);
    const test::Ran ran = test::run(tallow);
    CHECK(ran.code == 1);
    std::size_t at = 0;
    for (const std::string& place : places) {
        INFO(place << " in order in\n" << ran.out);
        at = ran.out.find(place, at);
        REQUIRE(at != std::string::npos);
    }
    CHECK(ran.out.find("8 errors") != std::string::npos);

    const test::Ran json = test::run(tallow + " --json");
    CHECK(json.code == 1);
    const auto array = nlohmann::json::parse(json.out);
    REQUIRE(array.size() == 8);
    for (const auto& entry : array) {
        const std::string line = path + ":" + std::to_string(entry["line"].get<int>()) + ":" +
                                 std::to_string(entry["column"].get<int>()) +
                                 ": error: " + entry["message"].get<std::string>() + " [" +
                                 entry["id"].get<std::string>() + "]";
        CHECK(ran.out.find(line) != std::string::npos);
        if (entry.contains("hint"))
            CHECK(ran.out.find("hint: " + entry["hint"].get<std::string>()) != std::string::npos);
    }
    std::filesystem::remove(path);
}

TEST_CASE("tallow check says that a file is missing, and ends with 2", "[unit][command]") {
    const test::Ran ran = test::run(test::quoted(TALLOW_COMMAND) + " check no-such-show.tallow");
    CHECK(ran.code == 2);
    CHECK(ran.out.find("no-such-show.tallow") != std::string::npos);
}
