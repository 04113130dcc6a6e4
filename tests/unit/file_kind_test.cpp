// A file that is given in the wrong place is called by its name.
#include "runtime/session/file_kind.hpp"

#include <catch2/catch.hpp>

#include "runtime/files.hpp"
#include "runtime/survival/state.hpp"
#include "tests/support/command.hpp"
#include "tests/support/made_frames.hpp"

using namespace tallow;
using runtime::file_kind;
using runtime::FileKind;
using test::quoted;

namespace {

const std::string show =
    "show \"Kinds\"  tallow 1\n\npatch 1/1\n    lamp  dimmer\n\ncue 1  cut\n    lamp  full\n";

// A folder with a file of each kind, made by the programs themselves where they make such.
std::string made_files() {
    const std::string folder = test::scratch("file_kind");
    test::run("mkdir -p " + quoted(folder));
    const auto write = [&](const std::string& name, const std::string& bytes) {
        REQUIRE(runtime::write_file(folder + name, bytes).ok());
    };
    const auto run = [&](const std::string& command) {
        REQUIRE(test::run("cd " + quoted(folder) + "; " + command).code == 0);
    };
    write("/show.tallow", show);
    write("/show.text", "# in another name\n" + show);
    write("/empty", "");
    write("/diary", "it rained\n");
    write("/show.roll.state", runtime::write_state({}, runtime::Roll{}));
    run(quoted(TALLOW_COMMAND) + " build show.tallow");
    run(quoted(TALLOW_COMMAND) + " render show.tallow -o show.frames");
    run(quoted(TALLOW_PLAY_COMMAND) + " show.frames --fast --capture show.pcap");
    return folder;
}

// What a program says of a file, run in its folder.
std::string said(const std::string& folder, const std::string& program, const std::string& arguments) {
    const auto ran = test::run("cd " + quoted(folder) + "; timeout 10 " + quoted(program) + " " + arguments);
    CHECK(ran.code == 2);
    return ran.out;
}

}  // namespace

TEST_CASE("files are known by their bytes, shows by their name too", "[unit][files]") {
    const std::string folder = made_files();
    const auto kind = [&](const std::string& name) {
        const auto bytes = runtime::read_file(folder + "/" + name, 1 << 20);
        REQUIRE(bytes.ok());
        return file_kind("any", *bytes);
    };
    CHECK(kind("show.tallow") == FileKind::show);
    CHECK(kind("show.text") == FileKind::show);
    CHECK(kind("show.roll") == FileKind::roll);
    CHECK(kind("show.frames") == FileKind::frames);
    CHECK(kind("show.pcap") == FileKind::capture);
    CHECK(kind("show.roll.state") == FileKind::state);
    CHECK(kind("empty") == FileKind::empty);
    CHECK(kind("diary") == FileKind::other);
    CHECK(file_kind("rig.tallow", "patch 1/1\n") == FileKind::show);
    for (const char* const bytes : {"{\"roll\":1", "{ \"roll\" : 1", "\xef\xbb\xbf{\"roll\":1",
                                    "\xef\xbb\xbf\r\n\t {\n    \"roll\": 1,\n"})
        CHECK(file_kind("rig.tallow", bytes) == FileKind::roll);
    for (const char* const bytes : {"{", "{\"rolls\":1", "[\"roll\"", "\"roll\"", "{\v\"roll\":1"})
        CHECK(file_kind("rig", bytes) == FileKind::other);
}

TEST_CASE("what is wrong in a roll is told however its JSON is laid out", "[unit][play]") {
    const std::string folder = made_files();
    const auto whole = runtime::read_file(folder + "/show.roll", 1 << 20);
    REQUIRE(whole.ok());
    REQUIRE(whole->starts_with("{\"roll\":1,\"title\":"));
    const std::string rest = whole->substr(whole->find("\"title\"") + 7);
    for (const std::string begin :
         {"{\"roll\":1,", "{ \"roll\":1,", "\xef\xbb\xbf{\"roll\":1,", "\n{\n  \"roll\": 1,\n  "}) {
        CAPTURE(begin);
        const auto write = [&](const std::string& key) {
            REQUIRE(runtime::write_file(folder + "/laid.roll", begin + key + rest).ok());
        };
        write("\"title\"");
        CHECK(test::run("cd " + quoted(folder) + "; " + quoted(TALLOW_PLAY_COMMAND) +
                        " laid.roll --null --fast --go 0s")
                  .code == 0);
        write("\"titel\"");
        const std::string why = ": the key `titel` is unknown; build it again from its show\n";
        const std::string played = said(folder, TALLOW_PLAY_COMMAND, "laid.roll --null");
        CHECK_THAT(played,
                   Catch::StartsWith("tallow-play: cannot play `laid.roll`: cannot read the roll at "));
        CHECK_THAT(played, Catch::EndsWith(why));
        const std::string inspected = said(folder, TALLOW_COMMAND, "inspect laid.roll");
        CHECK_THAT(inspected, Catch::StartsWith("tallow: cannot read `laid.roll`: cannot read the roll at "));
        CHECK_THAT(inspected, Catch::EndsWith(why));
    }
}

TEST_CASE("a file that a show uses, and that is no show's text, is not looked for elsewhere",
          "[unit][files]") {
    const std::string folder = made_files();
    const auto found = [&](const std::string& used) {
        REQUIRE(runtime::write_file(folder + "/user.tallow", "use \"" + used + "\"\n" + show).ok());
        return test::run("cd " + quoted(folder) + "; " + quoted(TALLOW_COMMAND) + " check user.tallow").out;
    };
    const std::string hint = "the name counts from the folder";
    CHECK_THAT(found("show.roll"), Catch::Contains("`show.roll` is a roll, and no show's text; give"));
    CHECK_THAT(found("show.roll"), !Catch::Contains(hint));
    CHECK_THAT(found("none.tallow"), Catch::Contains(hint));
}

TEST_CASE("the player says what a file is that it cannot play", "[unit][play]") {
    const std::string folder = made_files();
    const auto says = [&](const std::string& name, const std::string& what) {
        CHECK(said(folder, TALLOW_PLAY_COMMAND, name + " --null") ==
              "tallow-play: cannot play `" + name + "`: it is " + what + "\n");
    };
    says("show.tallow",
         "a show's text; play it with `tallow play show.tallow`, or compile it with `tallow build "
         "show.tallow`");
    says(
        "show.roll.state",
        "the state of a show that was played; play the roll that it lies beside, and add `--resume` to go on "
        "from there");
    says("show.pcap", "a capture of packets; play the roll or the frames file that it was made from");
    says("empty", "an empty file; give a roll, from `tallow build`, or a frames file, from `tallow render`");
    says("diary",
         "a file of another kind; give a roll, from `tallow build`, or a frames file, from `tallow render`");
}

TEST_CASE("commands that read a show say what another file is", "[unit][files]") {
    const std::string folder = made_files();
    const auto says = [&](const std::string& arguments, const std::string& sentence) {
        CHECK(said(folder, TALLOW_COMMAND, arguments) == "tallow: " + sentence + "\n");
    };
    const std::string roll =
        "`show.roll` is a roll, and no show's text; give a `.tallow` file, or play this one with "
        "`tallow-play show.roll`";
    for (const char* const command : {"play --null", "check", "format", "cues"})
        says(command + std::string(" show.roll"), roll);
    says("check show.frames",
         "`show.frames` is a frames file, and no show's text; give a `.tallow` file, or play this one with "
         "`tallow-play show.frames`");
    says("check show.pcap", "`show.pcap` is a capture of packets, and no show's text; give a `.tallow` file");
    says("inspect show.tallow",
         "`show.tallow` is a show's text, and neither a roll nor a frames file; give one of these");
}
