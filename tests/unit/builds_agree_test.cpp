// The same show gives the same bytes from every compiler, with and without optimisation, and with the
// instructions of newer processors. tests/run names the other builds' folders in TALLOW_OTHER_BUILDS, with
// colons between them.
#include <catch2/catch.hpp>
#include <cstdlib>
#include <filesystem>
#include <sstream>

#include "runtime/files.hpp"
#include "tests/support/command.hpp"
#include "tests/support/made_frames.hpp"

using namespace tallow;
using test::quoted;

namespace {

std::vector<std::string> example_shows() {
    std::vector<std::string> shows;
    for (const auto& entry : std::filesystem::directory_iterator(TALLOW_SOURCE_DIR "/examples")) {
        const auto show = entry.path() / "show.tallow";
        if (std::filesystem::exists(show)) shows.push_back(show.string());
    }
    return shows;
}

std::string bytes_of(const std::string& path) {
    auto bytes = runtime::read_file(path, std::size_t{1} << 30);
    REQUIRE(bytes.ok());
    return *bytes;
}

// The roll and the frames file that a build's program makes of the show, and the capture that its player
// makes of the roll.
struct Made {
    std::string roll, frames, capture;
};

Made made_by(const std::string& tallow, const std::string& player, const std::string& show) {
    const std::string roll = test::scratch("agree.roll"), frames = test::scratch("agree.frames"),
                      capture = test::scratch("agree.pcap");
    const auto built =
        test::run(quoted(tallow) + " build " + quoted(show) + " -o " + quoted(roll) + " && " +
                  quoted(tallow) + " render " + quoted(show) + " -o " + quoted(frames) + " && " +
                  quoted(player) + " " + quoted(roll) + " --fast --capture " + quoted(capture) +
                  " --go 0s,3s,7s,8.5s --until 20s"
                  " --cid 00000000-0000-4000-8000-000000000000");
    INFO(tallow << ": " << built.out);
    REQUIRE(built.code == 0);
    return {bytes_of(roll), bytes_of(frames), bytes_of(capture)};
}

}  // namespace

TEST_CASE("other builds of the programs write the same bytes", "[unit][determinism]") {
    const char* others = std::getenv("TALLOW_OTHER_BUILDS");
    if (others == nullptr) {
        WARN("TALLOW_OTHER_BUILDS names no other builds to compare with (tests/run does)");
        return;
    }
    const auto shows = example_shows();
    REQUIRE(!shows.empty());
    for (const std::string& show : shows) {
        const Made own = made_by(TALLOW_COMMAND, TALLOW_PLAY_COMMAND, show);
        REQUIRE(own.frames.size() > 100);
        std::istringstream folders(others);
        for (std::string folder; std::getline(folders, folder, ':');) {
            INFO(show << " by " << folder);
            const Made other = made_by(folder + "/tallow", folder + "/tallow-play", show);
            CHECK((other.roll == own.roll));
            CHECK((other.frames == own.frames));
            CHECK((other.capture == own.capture));
        }
    }
}

TEST_CASE("other builds write the same sheets, line by line and page by page", "[unit][determinism]") {
    const char* others = std::getenv("TALLOW_OTHER_BUILDS");
    if (others == nullptr) {
        WARN("TALLOW_OTHER_BUILDS names no other builds to compare with (tests/run does)");
        return;
    }
    const std::string arguments =
        " sheets " + quoted(TALLOW_SOURCE_DIR "/examples/orchard-clock/show.tallow") + " --desk hall --only ";
    for (const std::string kind : {"html", "json", "ascii", "text", "csv"}) {
        const auto own = test::run(quoted(TALLOW_COMMAND) + arguments + kind);
        REQUIRE(own.code == 0);
        REQUIRE(own.out.size() > 1000);
        std::istringstream folders(others);
        for (std::string folder; std::getline(folders, folder, ':');) {
            INFO(kind << " by " << folder);
            CHECK((test::run(quoted(folder + "/tallow") + arguments + kind).out == own.out));
        }
    }
}
