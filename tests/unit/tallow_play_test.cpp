// The command as a user meets it: exit codes and sentences.
#include <algorithm>
#include <catch2/catch.hpp>

#include "runtime/bytes.hpp"
#include "runtime/files.hpp"
#include "runtime/hash.hpp"
#include "runtime/roll/roll_io.hpp"
#include "tests/support/command.hpp"
#include "tests/support/made_frames.hpp"

using namespace tallow;
using test::quoted;

namespace {

#if defined(__SANITIZE_ADDRESS__)
constexpr bool sanitized = true;
#elif defined(__has_feature)
constexpr bool sanitized = __has_feature(address_sanitizer);
#else
constexpr bool sanitized = false;
#endif

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

TEST_CASE("a roll plays its cues at the times of `--go`", "[unit][play]") {
    runtime::Roll roll;
    roll.universes = {{5, 3}};
    roll.cues.resize(2);
    roll.cues[0].number = 1000;
    roll.cues[0].label = "First light";
    roll.cues[1].number = 2500;
    roll.lists = {{"main", 0, 2}};
    const std::string path = test::scratch("cli.roll");
    REQUIRE(runtime::write_file(path, runtime::write_roll(roll)).ok());
    const auto ran = play(quoted(path) + " --null --fast --go 1s,1min30s");
    CHECK(ran.code == 0);
    CHECK(ran.out == " 0:00:01.000  cue 1 \"First light\"; next 2.5\n 0:01:30.000  cue 2.5; the last one\n");
    CHECK(play(quoted(path) + " --null --fast --go 1").out.find("--go: `1` is not a time") !=
          std::string::npos);
    REQUIRE(runtime::write_file(path, "neither a roll nor frames\n").ok());
    const auto neither = play(quoted(path) + " --null");
    CHECK(neither.code == 2);
    CHECK(neither.out.find("tallow-play: cannot play `" + path + "`: ") == 0);
}

TEST_CASE("an interrupt ends the stream and keeps the capture", "[unit][play]") {
    const std::string capture = test::scratch("cli_interrupted.pcap");
    test::run("rm -f " + quoted(capture));
    const auto ran = test::run("timeout --preserve-status -s INT 0.3 " + quoted(TALLOW_PLAY_COMMAND) + " " +
                               made("cli.frames", 4000) + " --capture " + quoted(capture));
    INFO(ran.out);
    CHECK(ran.code == 0);
    const auto bytes = runtime::read_file(capture, 10000000);
    REQUIRE(bytes.ok());
    constexpr std::size_t packet = 16 + 28 + 638, discovery = 16 + 28 + 122;  // that one with the first frame
    REQUIRE((bytes->size() - 24 - discovery) % packet == 0);
    REQUIRE(bytes->size() > 24 + 4 * packet);
    for (std::size_t back = 1; back <= 4; ++back)
        CHECK(((*bytes)[bytes->size() - back * packet + 16 + 28 + 112] == 0x40) == (back <= 3));
}

TEST_CASE("long files of hostile bytes are refused with a sentence", "[unit][play]") {
    const std::string path = test::scratch("cli_hostile.roll");
    const auto repeated = [](std::string_view bytes) {
        std::string all;
        while (all.size() < 20000000) all += bytes;
        return all;
    };
    using namespace std::string_view_literals;
    for (const std::string_view bytes :
         {"["sv, "{\"universes\":"sv, "\0"sv, "\xff\x80"sv, "{\"title\":\"x"sv}) {
        REQUIRE(runtime::write_file(path, repeated(bytes)).ok());
        const auto ran =
            test::run("timeout 20 " + quoted(TALLOW_PLAY_COMMAND) + " " + quoted(path) + " --null");
        INFO(ran.out.substr(0, 1000));
        CHECK(ran.code == 2);
        CHECK(ran.out.find("tallow-play: cannot play `" + path + "`: ") == 0);
        CHECK(ran.out.size() < 1000);
        CHECK(std::count(ran.out.begin(), ran.out.end(), '\n') == 1);
    }
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

// Both sizes would be within reach of a reader that believes them.
TEST_CASE("a file that claims more than it has costs no memory", "[unit][play]") {
    if (sanitized) {
        WARN("the address sanitizer needs more memory than this test allows");
        return;
    }
    const auto file = test::packed(test::made_show(51, {{1, 24}}, 100));
    for (const std::size_t size_at : {20, 24}) {  // of the packed payload, of the unpacked one
        auto forged = file;
        const std::size_t chunk = 64 + 4;
        runtime::put_little(&forged[chunk + size_at], std::uint32_t{64u << 20});
        runtime::put_little(&forged[chunk + 32],
                            runtime::hash(runtime::as_text(std::span(forged).subspan(chunk, 32))));
        const std::string path = test::scratch("cli_forged.frames");
        REQUIRE(runtime::write_file(path, runtime::as_text(forged)).ok());
        const auto ran = test::run("ulimit -v 60000; " + quoted(TALLOW_PLAY_COMMAND) + " " + quoted(path) +
                                   " --null --fast");
        CHECK(ran.code == 2);
        CHECK(ran.out.find("its first 0 of 100 frames play") != std::string::npos);
    }
}

TEST_CASE("what cannot be played is refused with a sentence and 2", "[unit][play]") {
    const std::string file = made("cli.frames", 10);
    const auto refused = [](const std::string& arguments, const std::string& sentence) {
        const auto ran = play(arguments);
        INFO(ran.out);
        CHECK(ran.code == 2);
        CHECK(ran.out.find(sentence) != std::string::npos);
    };
    refused("", "`FILE` is missing; write `tallow-play FILE`");
    refused(test::scratch("no.frames") + " --null", "no.frames`: No such file or directory; check the name");
    refused(quoted(TALLOW_BUILD_DIR) + " --null", "it is not a plain file; give a file");
    refused(file, "nothing says where to play to; give `--sacn multicast`");
    refused(file + " --sacn 127.0.0.1 --fast", "`--fast` floods a network");
    refused(file + " --null --interface lo", "`--interface` is for multicast");
    refused(file + " --null --go 0s", "`--go`, `--do` and `--timecode` are for a roll");
    refused(file + " --null --from 3", "--from: `3` is not a time: it has no unit");
    refused(file + " --null --from 0.25s", "`--from 0.25s` is not before the end of `");
    refused(file + " --null --tell 127.0.0.1", "`--tell` is for a roll; leave it away");
    refused(file + " --null --force-sync", "`--force-sync` is about the packets of `--sync`");
    refused(file + " --sacn 10.0.0.1,10.0.0.2", "is no host; write one name or address");
    refused(file + " --null --until x", "--until: `x` is not a time");
    refused(file + " --null --cid 1234", "--cid: `1234` is no UUID");
    refused(file + " --null --priority 201", "--priority: `201` is no number from 0 to 200");
    refused(file + " --sacn no.such.host.invalid", "cannot find host `no.such.host.invalid`");
    refused(file + " --fast --capture /no/such/folder/x", "No such file or directory");
}
