// Holds grammar/LANGUAGE.md against the compiler: its examples are compiled, its tables compared.
#include <catch2/catch.hpp>
#include <cstdlib>
#include <fmt/format.h>
#include <set>
#include <sstream>

#include "compiler/colour/typical.hpp"
#include "compiler/lower/waves.hpp"
#include "compiler/show/builtin_text.hpp"
#include "runtime/limits.hpp"
#include "tests/suite/page.hpp"

using namespace tallow;
using test::Block;

namespace {

const std::string& page() {
    static const std::string text = test::read_page("grammar/LANGUAGE.md");
    return text;
}

std::string rig() {
    for (const Block& block : test::blocks_of(page()))
        if (block.argument == "rig") return block.text;
    return {};
}

// A whole show as it stands, any other example behind the page's rig.
std::string show_of(const Block& block) {
    return block.text.starts_with("show ") ? block.text : rig() + block.text;
}

std::vector<std::string> findings_of(const std::string& show) {
    const auto compiled = test::compile_text(show, test::blocks_of(page()));
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

}  // namespace

TEST_CASE("every example of the language page compiles without a finding", "[unit][page]") {
    std::size_t examples = 0;
    for (const Block& block : test::blocks_of(page())) {
        if (block.kind != "tallow") continue;
        ++examples;
        INFO("grammar/LANGUAGE.md:" << block.line);
        CHECK(findings_of(show_of(block)) == std::vector<std::string>{});
    }
    CHECK(examples > 15);
}

TEST_CASE("every wrong example of the language page gives the one error that it names", "[unit][page]") {
    std::size_t examples = 0;
    for (const Block& block : test::blocks_of(page())) {
        if (block.kind != "tallow-error") continue;
        ++examples;
        INFO("grammar/LANGUAGE.md:" << block.line);
        CHECK(findings_of(show_of(block)) == std::vector<std::string>{block.argument});
    }
    CHECK(examples > 10);
}

TEST_CASE("the language page marks each of its examples as one that is tried", "[unit][page]") {
    for (const Block& block : test::blocks_of(page())) {
        INFO("grammar/LANGUAGE.md:" << block.line);
        CHECK((block.kind == "tallow" || block.kind == "tallow-error" || block.kind == "tallow-builtin"));
    }
}

TEST_CASE("every word of the language stands in an example or among those not built yet", "[unit][page]") {
    std::string right;
    for (const Block& block : test::blocks_of(page()))
        if (block.kind != "tallow-error") right += block.text;
    const auto built = words_of(right);
    const auto later = words_of(test::section_of(page(), "# Not built yet"));
    for (const grammar::WordInfo& word : grammar::words) {
        INFO("the word `" << word.text << "`");
        CHECK((built.contains(word.text) || later.contains(word.text)));
    }
}

TEST_CASE("the language page prints the built-in types as they are", "[unit][page]") {
    std::string printed;
    for (const Block& block : test::blocks_of(page()))
        if (block.kind == "tallow-builtin") printed = block.text;
    CHECK(printed == show::builtin_text());
}

TEST_CASE("the language page lists the findings of the registry, in its order", "[unit][page]") {
    std::vector<std::string> listed, known;
    for (const auto& row : test::rows_under(page(), "# Findings")) {
        REQUIRE(row.size() == 3);
        const bool warns = row[1].starts_with("warning: ");
        listed.push_back(row[0] + (warns ? " warning" : " error"));
    }
    for (const auto& f : source::findings)
        known.push_back(std::string(f.id) +
                        (f.severity == source::Severity::warning ? " warning" : " error"));
    CHECK(listed == known);
}

TEST_CASE("the language page's typical emitters are the compiler's", "[unit][page]") {
    for (const auto& row : test::rows_under(page(), "# Typical emitters")) {
        INFO(row[0]);
        const auto* known = colour::typical(row[0]);
        REQUIRE(known != nullptr);
        CHECK(std::strtod(row[1].c_str(), nullptr) == known->emitter.xy.x);
        CHECK(std::strtod(row[2].c_str(), nullptr) == known->emitter.xy.y);
        CHECK(std::strtod(row[3].c_str(), nullptr) == known->emitter.lumens);
    }
}

TEST_CASE("the language page's scattered orders are those that waves take", "[unit][page]") {
    const std::string waves = test::section_of(page(), "## Waves in numbers");
    std::size_t rows = 0;
    std::istringstream in(waves.substr(waves.find("| seed |")));
    std::string line;
    for (std::getline(in, line), std::getline(in, line); std::getline(in, line) && line.starts_with("|");) {
        std::istringstream row(line);
        std::string bar;
        std::uint32_t seed = 0;
        std::size_t n = 0;
        row >> bar >> seed >> bar >> n >> bar;
        std::vector<std::int64_t> printed;
        for (std::int64_t d; row >> d;) printed.push_back(2 * d);
        CHECK(printed == lower::doubled_distances(show::Travel::scattered, seed, n));
        ++rows;
    }
    CHECK(rows == 3);
}

TEST_CASE("the language page's limits are those of the code", "[unit][page]") {
    const std::string section = test::section_of(page(), "# Limits");
    const auto states = [&](const char* what, std::uint64_t limit) {
        const std::string row = fmt::format("| {} | {} |", what, limit);
        INFO(row);
        CHECK(section.find(row) != std::string::npos);
    };
    states("files of a show", show::files_at_most);
    states("universes, and the number of one", runtime::limits::universe_max);
    states("slots in a universe, and in a mode", runtime::limits::slots);
    states("cues", runtime::limits::cues);
    states("points of a wave", runtime::limits::wave_points - 2);
    states("milliseconds in a time", runtime::limits::time_ms);
}
