// The README's first show works as it is printed, and so do its commands. What the pages point to exists.
#include <catch2/catch.hpp>
#include <cctype>
#include <filesystem>
#include <regex>
#include <set>
#include <sstream>

#include "runtime/files.hpp"
#include "tests/suite/page.hpp"
#include "tests/support/command.hpp"
#include "tests/support/made_frames.hpp"

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
// What they would send to loopback goes nowhere: another test may listen there at the same time.
std::vector<std::string> commands() {
    std::vector<std::string> commands;
    for (const test::Block& block : test::blocks_of(test::read_page("README.md"))) {
        std::istringstream in(block.kind == "sh" ? block.text : "");
        for (std::string line; std::getline(in, line);)
            for (const auto& [printed, built] :
                 {std::pair("build/release/tallow ", TALLOW_COMMAND),
                  std::pair("build/release/tallow-play ", TALLOW_PLAY_COMMAND)})
                if (line.starts_with(printed)) {
                    const std::string arguments = line.substr(std::string_view(printed).size() - 1);
                    commands.push_back(
                        quoted(built) +
                        std::regex_replace(arguments, std::regex("--sacn 127\\.0\\.0\\.1"), "--null"));
                }
    }
    return commands;
}

// How a heading is linked to: lower case, blanks as dashes, without other signs.
std::set<std::string> anchors_of(const std::string& page) {
    std::set<std::string> anchors;
    std::istringstream in(page);
    for (std::string line; std::getline(in, line);) {
        if (!line.starts_with("#")) continue;
        std::string anchor = "#";
        for (const char c : line.substr(line.find_first_not_of("# ")))
            if (c == ' ' || c == '-')
                anchor += '-';
            else if (std::isalnum(static_cast<unsigned char>(c)))
                anchor += static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
        anchors.insert(anchor);
    }
    return anchors;
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
    REQUIRE(all.size() == 11);
    for (const std::string& command : all) {
        const auto ran = test::run("cd " + quoted(folder) + " && " + command);
        INFO(command << "\n" << ran.out);
        CHECK(ran.code == 0);
    }
}

TEST_CASE("every link of the project's pages leads somewhere", "[unit][page]") {
    const std::regex link("\\]\\(([^)]+)\\)");
    for (const std::string page :
         {"README.md", "DEVELOPERS.md", "grammar/LANGUAGE.md", "runtime/FORMATS.md", "runtime/OUTPUTS.md",
          "runtime/PLAYING.md", "runtime/CONSOLE.md", "runtime/TRIGGERS.md", "runtime/NETWORK.md"}) {
        const std::string text = test::read_page(page);
        const auto anchors = anchors_of(text);
        const auto folder = (std::filesystem::path(TALLOW_SOURCE_DIR) / page).parent_path();
        for (auto at = std::sregex_iterator(text.begin(), text.end(), link); at != std::sregex_iterator();
             ++at) {
            const std::string target = (*at)[1];
            INFO(page << ": " << target);
            if (target.starts_with("#"))
                CHECK(anchors.contains(target));
            else
                CHECK(std::filesystem::exists(folder / target));
        }
    }
}

TEST_CASE("every header that newcomers are told to read exists", "[unit][page]") {
    const std::regex file("[a-z_/]+\\.hpp|[A-Za-z_]+\\.md");
    for (const auto& row : test::rows_under(test::read_page("DEVELOPERS.md"), "## The way of the data")) {
        REQUIRE(row.size() == 5);
        auto at = std::sregex_iterator(row[4].begin(), row[4].end(), file);
        REQUIRE(at != std::sregex_iterator());
        for (; at != std::sregex_iterator(); ++at) {
            const std::string path = TALLOW_SOURCE_DIR "/" + row[3] + at->str();
            INFO(path);
            CHECK(std::filesystem::exists(path));
        }
    }
}
