// The example shows, as they stand: without a finding, in rolls that hold together.
#include <catch2/catch.hpp>
#include <filesystem>

#include "compiler/command/compilation.hpp"
#include "runtime/files.hpp"
#include "runtime/roll/roll_io.hpp"

using namespace tallow;

TEST_CASE("every example compiles without a finding, to a roll that can be played", "[unit][examples]") {
    std::size_t shows = 0;
    for (const auto& folder : std::filesystem::directory_iterator(TALLOW_SOURCE_DIR "/examples")) {
        const auto path = folder.path() / "show.tallow";
        if (!std::filesystem::exists(path)) continue;
        ++shows;
        INFO(path);
        CHECK(std::filesystem::exists(folder.path() / "README.md"));
        auto compiled = command::compile(path.string(), [](const std::string& file) {
            return runtime::read_file(file, show::file_bytes);
        });
        REQUIRE(compiled.ok());
        std::string findings;
        for (const auto& d : (*compiled)->sink.sorted()) findings += source::render(d, (*compiled)->sources);
        CHECK(findings == "");
        CHECK(runtime::validate(command::make_roll(**compiled)).why() == "");
    }
    CHECK(shows == 2);
}
