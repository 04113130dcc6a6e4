// `tallow state` and the closing lines of `tallow check` on shows of several lists.
#include <catch2/catch.hpp>
#include <fmt/format.h>

#include "runtime/files.hpp"
#include "tests/support/command.hpp"
#include "tests/support/made_frames.hpp"

using namespace tallow;

namespace {

const std::string rig = "patch 1/1\n    front 1..2 dimmer\n";

test::Ran run(const std::string& command, const std::string& show, const std::string& more = "") {
    const std::string path = test::scratch("state.tallow");
    REQUIRE(runtime::write_file(path, rig + show).ok());
    return test::run(test::quoted(TALLOW_COMMAND) + " " + command + " " + test::quoted(path) + more);
}

}  // namespace

TEST_CASE("a cue that is not there is missed in its list", "[unit][cues]") {
    const std::string side = "list side\ncue 1 cut\n    front full\ncue 3 cut\n";
    CHECK(
        run("state", side, " --cue 7")
            .out.find(
                "--cue: there is no cue `7` in the list `main`, and it has no cues; choose another one with "
                "`--list`") != std::string::npos);
    CHECK(run("state", side, " --cue 2 --list side")
              .out.find("--cue: there is no cue `2` in the list `side`; the nearest: `1` and `3`") !=
          std::string::npos);
    CHECK(run("state", "", " --cue 7").out.find("--cue: there is no cue `7`, and the show has no cues") !=
          std::string::npos);
}

TEST_CASE("what is still lit is told for each list", "[unit][cues]") {
    CHECK(run("check", "cue 1 cut\n    front 2 40%\nlist side\ncue 1 cut\n    front 2 full\n")
              .out.find("since cue 1: front 2 40%\n    since cue 1 of side: front 2 100%\n") !=
          std::string::npos);
}

TEST_CASE("what is still lit is told by level, and of many cues for the latest", "[unit][cues]") {
    const std::string lamps = "patch 2/1\n    lamp 1..14 dimmer\n";
    CHECK(run("check", lamps + "cue 1 cut\n    lamp 1..3 40%\n    lamp 2 full\n")
              .out.find("since cue 1: lamp 1, 3 40%; lamp 2 100%\n") != std::string::npos);
    std::string cues;
    for (int i = 1; i <= 14; ++i) cues += fmt::format("cue {} cut\n    lamp {} full\n", i, i);
    const std::string out = run("check", lamps + cues).out;
    CHECK(out.find("since cue 2:") == std::string::npos);
    CHECK(out.find("    since cue 3: lamp 3 100%\n") != std::string::npos);
    CHECK(out.find("    since cue 14: lamp 14 100%\n    and since 2 cues before these\n") !=
          std::string::npos);
}

TEST_CASE("a fixture that is not there is missed on the command line", "[unit][cues]") {
    const auto ran = run("state", "cue 1 cut\n    front full\n", " --fixture frnt");
    CHECK(ran.code == 2);
    CHECK(ran.out.find("`frnt`") != std::string::npos);
    CHECK(ran.out.find("in the show") == std::string::npos);
}

TEST_CASE("no output takes the place of what is read, of a show's text or of a device", "[unit][cues]") {
    const std::string text = "cue 1 cut\n    front full\n", path = test::scratch("state.tallow");
    const std::string own = test::quoted(path), pipe = test::quoted(test::scratch("state.pipe"));
    CHECK(run("build", text, " -o " + own).code == 2);
    CHECK(run("render", text, " -o " + own).code == 2);
    CHECK(run("colours", text, " --svg " + own).code == 2);
    CHECK(run("build", text, " -o " + test::quoted(test::scratch("other.tallow"))).code == 2);
    const auto kept = runtime::read_file(path, 1 << 20);
    REQUIRE(kept.ok());
    CHECK(*kept == rig + text);
    const auto piped =
        test::run("rm -f " + pipe + "; mkfifo " + pipe + " && { head -c 8 " + pipe + " & " +
                  test::quoted(TALLOW_COMMAND) + " build " + own + " -o " + pipe +
                  " >/dev/null; wait; test -p " + pipe + " && echo; echo still a pipe; rm " + pipe + "; }");
    CHECK(piped.out.find("{\"roll\":\nstill a pipe") != std::string::npos);
}
