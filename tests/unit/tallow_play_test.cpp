// The command as a user meets it: exit codes and sentences.
#include <catch2/catch.hpp>

#include "runtime/files.hpp"
#include "tests/support/command.hpp"
#include "tests/support/made_frames.hpp"

using namespace tallow;
using test::quoted;

namespace {

test::Ran play(const std::string& arguments) {
    return test::run(quoted(TALLOW_PLAY_COMMAND) + " " + arguments);
}

std::string made(const std::string& name, std::size_t frames) {
    const std::string path = test::scratch(name);
    test::write_made(test::made_show(51, {{1, 24}}, frames), path);
    return quoted(path);
}

}  // namespace

TEST_CASE("a frames file plays to its end and says its cues", "[unit][play]") {
    const auto ran = play(made("cli.frames", 1000) + " --null --fast");
    CHECK(ran.code == 0);
    CHECK(ran.out.find("  cue 0.5\n") != std::string::npos);
}

TEST_CASE("a stretch plays in its own time", "[unit][play]") {
    const auto ran = play(made("cli.frames", 1000) + " --null --from 1s --until 1.2s");
    CHECK(ran.code == 0);
}

TEST_CASE("a cut file plays, says so and exits with 2", "[unit][play]") {
    const std::string path = test::scratch("cli_cut.frames");
    auto bytes = test::packed(test::made_show(51, {{1, 24}}, 9000));
    bytes.resize(bytes.size() - 100);
    REQUIRE(runtime::write_file(path, runtime::as_text(bytes)).ok());
    const auto ran = play(quoted(path) + " --null --fast");
    CHECK(ran.code == 2);
    CHECK(ran.out.find("tallow-play: the frames file is not whole: ") != std::string::npos);
}

TEST_CASE("what cannot be played is refused with a sentence and 2", "[unit][play]") {
    const std::string file = made("cli.frames", 10);
    const auto refused = [](const std::string& arguments, const std::string& sentence) {
        const auto ran = play(arguments);
        INFO(ran.out);
        CHECK(ran.code == 2);
        CHECK(ran.out.find(sentence) != std::string::npos);
    };
    refused("", "FILE is required");
    refused(test::scratch("no.frames") + " --null", "no.frames`: No such file or directory; check the name");
    refused(quoted(TALLOW_BUILD_DIR) + " --null", "it is not a plain file; give a file");
    refused(file, "nothing says where to play to; give `--sacn multicast`");
    refused(file + " --sacn 127.0.0.1 --fast", "`--fast` floods a network");
    refused(file + " --null --interface lo", "`--interface` is for multicast");
    refused(file + " --null --go 0s", "`--go` is for a roll");
    refused(file + " --null --from 3", "--from: `3` is not a time: it has no unit");
    refused(file + " --null --until x", "--until: `x` is not a time");
    refused(file + " --null --cid 1234", "--cid: `1234` is no UUID");
    refused(file + " --null --priority 201", "--priority");
    refused(file + " --sacn no.such.host.invalid", "cannot find host `no.such.host.invalid`");
    refused(file + " --fast --capture /no/such/folder/x", "No such file or directory");
}
