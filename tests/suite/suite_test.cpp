// Runs the sections of tests/suite/*.txt (section.hpp says how they are written). TALLOW_UPDATE=1 writes the
// findings as they are now into the files, to be read and judged before they are kept.
#include <catch2/catch.hpp>
#include <cstdlib>
#include <filesystem>
#include <fmt/format.h>
#include <set>

#include "grammar/words.hpp"
#include "runtime/files.hpp"
#include "tests/suite/page.hpp"
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

struct Used {
    std::set<grammar::Word> words;
    std::set<grammar::Unit> units;
};

void add_words(const std::string& text, Used& used) {
    source::Sources sources;
    source::Sink sink;
    const auto document = syntax::cut(sources.add("words", text), sources, sink);
    for (const auto& atom : document.atoms) {
        used.words.insert(atom.word());
        used.units.insert(atom.unit());
    }
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
    std::vector<std::string_view> missing;
    for (const source::FindingInfo& finding : source::findings) {
        const char* severity = finding.severity == source::Severity::error ? "error" : "warning";
        if (all.find(fmt::format(" {} {}: ", severity, finding.id)) == std::string::npos)
            missing.push_back(finding.id);
    }
    CHECK(missing == std::vector<std::string_view>{});
}

TEST_CASE("every word of the language and every unit has a case in the suite", "[unit][suite]") {
    Used used;
    for (const Suite& suite : test::read_suites())
        for (const Section& section : suite.sections)
            for (const test::SuiteFile& file : section.files) add_words(test::expand(file.text), used);
    std::vector<std::string_view> missing;
    for (const grammar::WordInfo& word : grammar::words)
        if (!used.words.contains(word.word)) missing.push_back(word.text);
    for (const grammar::UnitInfo& unit : grammar::units)
        if (!used.units.contains(unit.unit)) missing.push_back(unit.text);
    CHECK(missing == std::vector<std::string_view>{});
}

TEST_CASE("the list of keywords that editors are held to is that of the language", "[unit][suite]") {
    std::string list =
        "# every word of the language, and what it is; written by the tests with TALLOW_UPDATE=1\n";
    for (const grammar::WordInfo& word : grammar::words)
        if (word.word != grammar::Word::none)
            list += fmt::format("{} {}{}\n", word.text, word.declares ? "declaration" : "word",
                                word.reserved ? " reserved" : "");
    for (const grammar::UnitInfo& unit : grammar::units) list += fmt::format("{} unit\n", unit.text);
    if (std::getenv("TALLOW_UPDATE") != nullptr)
        REQUIRE(runtime::write_file("grammar/keywords.txt", list).ok());
    CHECK(test::read_page("grammar/keywords.txt") == list);
}
