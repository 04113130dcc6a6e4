// Runs the sections of tests/suite/*.txt (section.hpp says how they are written). TALLOW_UPDATE=1 writes the
// findings as they are now into the files, to be read and judged before they are kept.
#include <catch2/catch.hpp>
#include <cstdlib>
#include <filesystem>
#include <set>

#include "grammar/words.hpp"
#include "runtime/files.hpp"
#include "tests/suite/section.hpp"

using namespace tallow;
using test::Section;
using test::Suite;

namespace {

// Findings may name lines, and their own lines move those: once more settles it.
Section settled(const Section& section) {
    Section now = test::annotated(section);
    for (int turns = 0; turns < 3; ++turns) now = test::annotated(now);
    return now;
}

std::string text_of(const Section& section) {
    return test::write_suite({"", {section}});
}

// Calls use(atom text's word) for every word of the language in a text.
void add_words(const std::string& text, std::set<std::string_view>& used) {
    source::Sources sources;
    source::Sink sink;
    const auto document = syntax::cut(sources.add("words", text), sources, sink);
    for (const auto& atom : document.atoms) used.insert(grammar::text(atom.word()));
}

std::string text_of_file(const std::filesystem::path& path) {
    auto text = runtime::read_file(path.string(), std::size_t{1} << 24);
    REQUIRE(text.ok());
    return *text;
}

}  // namespace

TEST_CASE("every section of the suite gives the findings that stand beside its lines", "[unit][suite]") {
    const char* update = std::getenv("TALLOW_UPDATE");
    for (Suite& suite : test::read_suites()) {
        for (Section& section : suite.sections) {
            if (update != nullptr) {
                section = settled(section);
                continue;
            }
            INFO(suite.path << ": " << section.name);
            CHECK(text_of(test::annotated(section)) == text_of(section));
        }
        if (update != nullptr) REQUIRE(runtime::write_file(suite.path, test::write_suite(suite)).ok());
    }
}

TEST_CASE("every finding of the registry has a case in the suite", "[unit][suite]") {
    std::string all;
    for (const Suite& suite : test::read_suites()) all += test::write_suite(suite);
    for (const source::FindingInfo& finding : source::findings) {
        const std::string severity = finding.severity == source::Severity::error ? "error" : "warning";
        INFO("the finding " << finding.id << " has no case in tests/suite");
        CHECK(all.find(" " + severity + " " + std::string(finding.id) + ": ") != std::string::npos);
    }
}

TEST_CASE("every word of the language is used by a suite section, an example or a built-in type",
          "[unit][suite]") {
    std::set<std::string_view> used;
    for (const Suite& suite : test::read_suites())
        for (const Section& section : suite.sections)
            for (const test::SuiteFile& file : section.files) add_words(test::expand(file.text), used);
    for (const char* folder : {"grammar", "examples"})
        if (std::filesystem::exists(folder))
            for (const auto& entry : std::filesystem::recursive_directory_iterator(folder))
                if (entry.path().extension() == ".tallow") add_words(text_of_file(entry.path()), used);
    for (const grammar::WordInfo& word : grammar::words) {
        INFO("the word `" << word.text << "` is used nowhere");
        CHECK(used.contains(word.text));
    }
}
