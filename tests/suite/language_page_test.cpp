// Holds grammar/LANGUAGE.md against the compiler: its examples are compiled, its lists compared. Its numbers
// are held by language_numbers_test.cpp.
#include "tests/suite/language_page.hpp"

#include <catch2/catch.hpp>
#include <cstdlib>
#include <fmt/format.h>
#include <set>
#include <sstream>

#include "compiler/colour/typical.hpp"
#include "compiler/show/bounds.hpp"
#include "compiler/show/builtin_text.hpp"
#include "runtime/limits.hpp"

using namespace tallow;
using test::Block;
using test::language_page;

namespace {

std::vector<std::string> ids_of(const std::string& show) {
    const auto compiled = test::compile_text(show, test::blocks_of(language_page()));
    std::vector<std::string> ids;
    for (const auto& d : compiled->sink.sorted()) ids.emplace_back(source::info(d.finding).id);
    return ids;
}

std::set<std::string_view> words_of(const std::string& text) {
    source::Sources sources;
    source::Sink sink;
    std::set<std::string_view> words;
    for (const auto& atom : syntax::cut(sources.add("words", text), sources, sink).atoms)
        words.insert(grammar::text(atom.word()));
    return words;
}

std::set<std::string_view> words_of_examples() {
    std::string examples;
    for (const Block& block : test::blocks_of(language_page()))
        if (block.kind == "tallow") examples += block.text;
    return words_of(examples);
}

}  // namespace

TEST_CASE("every example of the language page compiles without a finding", "[unit][page]") {
    std::size_t examples = 0;
    for (const Block& block : test::blocks_of(language_page())) {
        if (block.kind != "tallow") continue;
        ++examples;
        INFO("grammar/LANGUAGE.md:" << block.line);
        CHECK(ids_of(test::show_of(block)) == std::vector<std::string>{});
    }
    CHECK(examples > 25);
}

TEST_CASE("every wrong example of the language page gives the one error that it names", "[unit][page]") {
    std::size_t examples = 0;
    for (const Block& block : test::blocks_of(language_page())) {
        if (block.kind != "tallow-error") continue;
        ++examples;
        INFO("grammar/LANGUAGE.md:" << block.line);
        CHECK(ids_of(test::show_of(block)) == std::vector<std::string>{block.argument});
    }
    CHECK(examples > 25);
}

TEST_CASE("the language page marks each of its examples as one that is tried", "[unit][page]") {
    for (const Block& block : test::blocks_of(language_page())) {
        INFO("grammar/LANGUAGE.md:" << block.line);
        CHECK((block.kind == "tallow" || block.kind == "tallow-error" || block.kind == "tallow-builtin" ||
               block.kind == "tallow-before" || block.kind == "tallow-after"));
    }
}

TEST_CASE("every word of the language stands in an example of the page", "[unit][page]") {
    const auto words = words_of_examples();
    for (const grammar::WordInfo& word : grammar::words) {
        if (word.text.empty()) continue;
        INFO("the word `" << word.text << "`");
        CHECK(words.contains(word.text));
    }
}

TEST_CASE("the language page prints the built-in types as they are", "[unit][page]") {
    std::string printed;
    for (const Block& block : test::blocks_of(language_page()))
        if (block.kind == "tallow-builtin") printed = block.text;
    CHECK(printed == show::builtin_text());
}

TEST_CASE("the language page lists the findings of the registry", "[unit][page]") {
    std::set<std::string> listed, known;
    for (const auto& row : test::rows_under(language_page(), "# Findings")) {
        REQUIRE(row.size() == 3);
        const bool warns = row[1].starts_with("warning: ");
        INFO(row[0]);
        CHECK(listed.insert(row[0] + (warns ? ", a warning" : ", an error")).second);
        CHECK_FALSE(row[1].empty());
        CHECK_FALSE(row[2].empty());
    }
    for (const auto& f : source::findings)
        known.insert(std::string(f.id) +
                     (f.severity == source::Severity::warning ? ", a warning" : ", an error"));
    CHECK(listed == known);
}

TEST_CASE("the language page's typical emitters are the compiler's", "[unit][page]") {
    std::set<std::string> listed;
    for (const auto& row : test::rows_under(language_page(), "# Typical emitters")) {
        INFO(row[0]);
        REQUIRE(row.size() == 4);
        listed.insert(row[0]);
        const auto* known = colour::typical(row[0]);
        REQUIRE(known != nullptr);
        CHECK(std::strtod(row[1].c_str(), nullptr) == known->emitter.xy.x);
        CHECK(std::strtod(row[2].c_str(), nullptr) == known->emitter.xy.y);
        CHECK(std::strtod(row[3].c_str(), nullptr) == known->emitter.lumens);
    }
    // The table has no list of its own for others: its lines of visible emitters are counted in the source.
    const std::string source = test::read_page("compiler/colour/typical.cpp");
    std::size_t visible = 0;
    for (std::size_t at = 0; (at = source.find("}, true},", at)) != std::string::npos; ++at) ++visible;
    CHECK(listed.size() == visible);
}

TEST_CASE("the language page's limits are those of the code", "[unit][page]") {
    const std::string section = test::section_of(language_page(), "# Limits");
    const auto states = [&](const char* what, std::uint64_t limit) {
        const std::string row = fmt::format("| {} | {} |", what, limit);
        INFO(row);
        CHECK(section.find(row) != std::string::npos);
    };
    states("bytes in all files of a show", show::file_bytes);
    states("files that use one another, deep", show::deepest_use);
    states("files of a show", show::files_at_most);
    states("universes, and the number of one", runtime::limits::universe_max);
    states("slots of a universe, and of a mode", runtime::limits::slots);
    states("cues", runtime::limits::cues);
    states("cue lists", runtime::limits::lists);
    states("chases", show::chases_at_most);
    states("steps of a chase", show::steps_at_most);
    states("values in the steps of all chases", show::step_values);
    states("submasters", runtime::limits::submasters);
    states("number of a submaster", show::largest_submaster);
    states("members of a line that have times of their own", show::spread_times_at_most);
    states("points of a wave", show::points_at_most);
    states("points of a wave that turns the hue", show::hue_points_at_most);
    states("pieces of all waves that turn the hue: 4096 for each emitter of a type, and for each `swing`",
           show::hue_segments);
    states("different responses", show::responses_at_most);
    states("values that all parts of looks set", show::set_values);
    states("milliseconds of a time", runtime::limits::time_ms);
    states("frames a second", runtime::limits::refresh_max);
    states("cues that start at one instant", runtime::limits::cues_at_once);
    states("names of parameters in all types", show::parameter_names_at_most);
    states("fixtures", show::fixtures_at_most);
    states("parameters of the rig", runtime::limits::parameters);
    states("fixtures and cells in all different selections and groups", show::selected_at_most);
    states(
        "values that the lines of all cues, of submasters and of the panic look set; a member with a time of "
        "its own counts as 32 "
        "more",
        show::set_values);
    states("parameters of the rig × lists, submasters and chases", show::played_values);
    states("values in the steps of all chases × lists and submasters", runtime::limits::chase_levels);
    states("parameters of the rig × every 64th cue", show::picture_values);
}
