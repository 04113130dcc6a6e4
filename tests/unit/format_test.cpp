// The plain style: samples with what becomes of them, and what holds for every text of the project.
#include "compiler/syntax/format.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <filesystem>

#include "runtime/files.hpp"
#include "runtime/roll/roll_io.hpp"
#include "tests/fuzz/format_fuzz.hpp"
#include "tests/suite/language_page.hpp"
#include "tests/suite/section.hpp"

using namespace tallow;
using syntax::format;

namespace {

std::vector<std::string> example_files() {
    std::vector<std::string> files;
    for (const auto& entry : std::filesystem::recursive_directory_iterator(TALLOW_SOURCE_DIR "/examples"))
        if (entry.path().extension() == ".tallow") files.push_back(entry.path().string());
    return files;
}

std::string text_of(const std::string& path) {
    auto text = runtime::read_file(path, std::size_t{1} << 24);
    REQUIRE(text.ok());
    return *text;
}

bool keeps_its_words(const std::string& text) {
    return test::fuzz_format({reinterpret_cast<const std::uint8_t*>(text.data()), text.size()});
}

// The roll of a text without errors; empty for any other.
std::string roll_of(const std::string& text, const std::vector<test::Block>& files) {
    const auto compiled = test::compile_text(text, files);
    return compiled->failed() ? std::string() : runtime::write_roll(command::make_roll(*compiled));
}

}  // namespace

TEST_CASE("settings stand in columns within a declaration", "[unit][format]") {
    CHECK(format("cue 3   \"Dusk\" up 8s down   5s colour 10s\n"
                 " front 45%\n"
                 "\tside dusk-blue 40% fade 2s\n"
                 "  sky cells wave leaves period 4s\n"
                 "  on \"the ferry's horn\"\n") ==
          "cue 3 \"Dusk\"  up 8s  down 5s  colour 10s\n"
          "    front      45%\n"
          "    side       dusk-blue    40%  fade 2s\n"
          "    sky cells  wave leaves  period 4s\n"
          "    on         \"the ferry's horn\"\n");
    CHECK(format("patch 1/1\n  front 1 .. 4 dimmer\n  side 1..12 par-rgbw colour ganged\n  lamp dimmer at 1 "
                 "/ 500\n") ==
          "patch 1/1\n"
          "    front 1..4  dimmer\n"
          "    side 1..12  par-rgbw colour  ganged\n"
          "    lamp        dimmer           at 1/500\n");
}

TEST_CASE("dots stand close between bare numbers alone", "[unit][format]") {
    CHECK(format("cue 1\n  front 1 .. 4 20%..80% delay 0..2s\n") ==
          "cue 1\n    front 1..4  20% .. 80%  delay 0 .. 2s\n");
}

TEST_CASE("a very long selection does not push the others to the right", "[unit][format]") {
    CHECK(format("cue 1\n  all except house, sky, lamp, bench 1..4 out fade 3s\n  front 50% fade 3s\n") ==
          "cue 1\n"
          "    all except house, sky, lamp, bench 1..4  out  fade 3s\n"
          "    front     50%  fade 3s\n");
}

TEST_CASE("neighbouring declarations of one line are a table", "[unit][format]") {
    CHECK(format("palette amber #ffb000\npalette moonlight xy 0.27 0.28\n\npalette sea blue full green 20%\n"
                 "wave run sine period 4s\n intensity out .. full\n") ==
          "palette amber      #ffb000\n"
          "palette moonlight  xy 0.27 0.28\n"
          "\n"
          "palette sea  blue full  green 20%\n"
          "wave run  sine  period 4s\n"
          "    intensity  out .. full\n");
}

TEST_CASE("a type's lines, and a mode that goes on", "[unit][format]") {
    CHECK(format("type wash \"A wash\"\n emitter red xy 0.69 0.308 95lm\n"
                 " mode long pan pan.fine\n  tilt - zoom 4 x(red green blue)\n"
                 " range strobe open 0 .. 9 rate 10..255 is 1Hz .. 20Hz\n plug 3-pin\n") ==
          "type wash \"A wash\"\n"
          "    emitter   red     xy 0.69 0.308  95 lm\n"
          "    mode      long    pan pan.fine\n"
          "                      tilt - zoom    4 x (red green blue)\n"
          "    range     strobe  open 0..9      rate 10..255 is 1Hz..20Hz\n"
          "    plug      3-pin\n");
}

TEST_CASE("comments stay, those of neighbouring lines in one column", "[unit][format]") {
    CHECK(format("# a hall\ncue 1 # one\n   front 50% # two\n             # and more\n"
                 "  back 20% fade 4s# three\n\n\n\n    # alone\n#   at the margin  \n  side 5%\n\n") ==
          "# a hall\n"
          "cue 1                       # one\n"
          "    front     50%           # two\n"
          "                            # and more\n"
          "    back      20%  fade 4s  # three\n"
          "\n"
          "    # alone\n"
          "#   at the margin\n"
          "    side      5%\n");
}

TEST_CASE("what other systems and word processors write becomes the plain form", "[unit][format]") {
    CHECK(format("\xef\xbb\xbf"
                 "cue 1 “Ice – and tea”\r\n\tfront\u00a01…4 70\u00a0% delay 2 s\r\n  pan \u2212"
                 "30deg") ==
          "cue 1 \"Ice – and tea\"\n"
          "    front 1..4  70%  delay 2s\n"
          "    pan         -30deg\n");
    CHECK(format("cue 1 color 4s\n  front color amber .. sea\n  außen–links emitter color 5%\n") ==
          "cue 1  colour 4s\n"
          "    front        colour amber .. sea\n"
          "    außen-links  emitter color 5%\n");
    CHECK(
        format("palette p color #ffb000\n  front 2 color #ff0000\nchase color every 1s\n  step 1 front color "
               "#ff0000\n") ==
        "palette p  colour #ffb000\n    front 2   colour #ff0000\n"
        "chase color  every 1s\n    step 1    front  colour #ff0000\n");
    CHECK(format("submaster 1 \"Warm\"\n  front color amber full\n") ==
          "submaster 1 \"Warm\"\n    front     colour amber  full\n");
    CHECK(format("type t\n  mode color 6 × (red green blue)\n") ==
          "type t\n    mode      color  6 x (red green blue)\n");
    CHECK(format("").empty());
    CHECK(format("\r\n \n").empty());
}

TEST_CASE("broken lines, and those of no declaration, stay as they are", "[unit][format]") {
    const std::string broken =
        "   front    50%\n"
        "cue 1\n"
        "    front  \"open   \n"
        "  back   5,5%  # note\n"
        "side   20%   #warm\n"
        "    cyc     3%\n"
        "cuee 2   fade   3s\n";
    CHECK(format(broken) == broken);
}

TEST_CASE("parked declarations are laid out too", "[unit][format]") {
    CHECK(format("skip cue 6 \"Perhaps\" fade 2s\n front 99 70%\n") ==
          "skip cue 6 \"Perhaps\"  fade 2s\n    front 99  70%\n");
}

TEST_CASE("columns count what a terminal shows", "[unit][format]") {
    CHECK(format("cue 1\n  größe 50%\n  灯灯灯灯灯 50%\n") ==
          "cue 1\n    größe       50%\n    灯灯灯灯灯  50%\n");
}

TEST_CASE("formatting changes no atom of the project's texts", "[unit][format]") {
    int texts = 0;
    for (const std::string& file : example_files()) texts += keeps_its_words(text_of(file));
    for (const test::Suite& suite : test::read_suites())
        for (const test::Section& section : suite.sections)
            for (const test::SuiteFile& file : section.files)
                texts += keeps_its_words(test::expand(file.text));
    for (const test::Block& block : test::blocks_of(test::language_page()))
        if (block.kind.starts_with("tallow")) texts += keeps_its_words(block.text);
    CHECK(texts > 120);
}

TEST_CASE("formatting changes no roll", "[unit][format]") {
    const auto blocks = test::blocks_of(test::language_page());
    int rolls = 0;
    const auto compare = [&](const std::string& text, const std::vector<test::Block>& files) {
        const std::string roll = roll_of(text, files);
        if (roll.empty()) return;
        INFO(text);
        CHECK((roll_of(format(text), files) == roll));
        ++rolls;
    };
    for (const test::Block& block : blocks)
        if (block.kind == "tallow") compare(test::show_of(block), blocks);
    for (const test::Suite& suite : test::read_suites())
        for (const test::Section& section : suite.sections)
            if (section.files.size() == 1) compare(test::expand(section.files[0].text), {});
    const std::string folder = TALLOW_SOURCE_DIR "/examples/orchard-clock/";
    compare(text_of(folder + "show.tallow"),
            {{"tallow", "rig.tallow", format(text_of(folder + "rig.tallow")), 1}});
    CHECK(rolls > 30);
}

TEST_CASE("the reference page shows what formatting does", "[unit][format][page]") {
    std::string before, after;
    for (const test::Block& block : test::blocks_of(test::language_page())) {
        if (block.kind == "tallow-before") before = block.text;
        if (block.kind == "tallow-after") after = block.text;
    }
    REQUIRE(!before.empty());
    CHECK(format(before) == after);
}

TEST_CASE("the pages' longer examples are in the plain style", "[unit][format][page]") {
    int longer = 0;
    for (const char* page : {"grammar/LANGUAGE.md", "README.md"})
        for (const test::Block& block : test::blocks_of(test::read_page(page))) {
            const bool shows_other_spellings = block.text.find(" color ") != std::string::npos;
            if (block.kind != "tallow" || shows_other_spellings) continue;
            if (std::count(block.text.begin(), block.text.end(), '\n') < 6) continue;
            ++longer;
            INFO(page << ", line " << block.line);
            CHECK(format(block.text) == block.text);
        }
    CHECK(longer > 10);
}

TEST_CASE("the examples and the built-in types are in the plain style", "[unit][format]") {
    auto files = example_files();
    files.push_back(TALLOW_SOURCE_DIR "/grammar/builtin.tallow");
    REQUIRE(files.size() > 2);
    for (const std::string& file : files) {
        INFO(file << ": run `tallow format` on it");
        CHECK(format(text_of(file)) == text_of(file));
    }
}
