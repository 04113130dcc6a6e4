// The README's first show works as it is printed, and so do its commands.
#include <catch2/catch.hpp>
#include <filesystem>
#include <sstream>

#include "runtime/files.hpp"
#include "tests/support/command.hpp"
#include "tests/support/made_frames.hpp"
#include "tests/support/page.hpp"

using namespace tallow;
using test::quoted;

namespace {

std::string first_show() {
    std::string show;
    for (const test::Block& block : test::blocks_of(test::read_page("README.md")))
        if (block.kind == "tallow") show += block.text;
    return show;
}

// The page's command lines that call the programs, with the built programs in place of their printed path.
std::vector<std::string> commands() {
    std::vector<std::string> commands;
    for (const test::Block& block : test::blocks_of(test::read_page("README.md"))) {
        std::istringstream in(block.kind == "sh" ? block.text : "");
        for (std::string line; std::getline(in, line);)
            for (const auto& [printed, built] :
                 {std::pair("build/release/tallow ", TALLOW_COMMAND),
                  std::pair("build/release/tallow-play ", TALLOW_PLAY_COMMAND)})
                if (line.starts_with(printed))
                    commands.push_back(quoted(built) + line.substr(std::string_view(printed).size() - 1));
    }
    return commands;
}

}  // namespace

TEST_CASE("the README's first show has neither an error nor a warning", "[unit][page]") {
    const auto compiled = test::compile_text(first_show());
    CHECK(compiled->sink.sorted().empty());
    CHECK(compiled->show.cues.size() == 4);
    CHECK(compiled->summary.last_slot == 28);
}

TEST_CASE("the README's commands work as they are printed", "[unit][page]") {
    const std::string folder = test::scratch("readme");
    std::filesystem::create_directories(folder);
    REQUIRE(runtime::write_file(folder + "/first.tallow", first_show()).ok());
    const auto all = commands();
    REQUIRE(all.size() == 6);
    for (const std::string& command : all) {
        const auto ran = test::run("cd " + quoted(folder) + " && " + command);
        INFO(command << "\n" << ran.out);
        CHECK(ran.code == 0);
    }
}
