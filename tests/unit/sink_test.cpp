#include <catch2/catch.hpp>
#include <sstream>

#include "compiler/source/diagnostics.hpp"
#include "compiler/text/utf8.hpp"

using namespace tallow::source;

TEST_CASE("many warnings leave a show sound, and hide no error", "[unit][source]") {
    Sink sink;
    for (std::uint32_t i = 0; i < 5000; ++i) sink.report(Finding::no_colour_yet, {0, i, i}, "w");
    CHECK_FALSE(sink.failed());
    CHECK(sink.count(Severity::warning) == 5000);
    CHECK(sink.sorted().size() == 1000);
    sink.report(Finding::overlap, {0, 9000, 9001}, "e").with_hint("h");
    CHECK(sink.count(Severity::error) == 1);
    CHECK(sink.sorted().back().hint == "h");
}

TEST_CASE("errors beyond a thousand end in one that says so", "[unit][source]") {
    Sink sink;
    for (std::uint32_t i = 0; i < 5000; ++i) sink.report(Finding::overlap, {0, i, i}, "e").with_hint("h");
    CHECK(sink.full());
    CHECK(sink.count(Severity::error) == 1001);
    REQUIRE(sink.sorted().size() == 1001);
    CHECK(sink.sorted().back().finding == Finding::too_many);
}

TEST_CASE("a finding is broken into the columns of a terminal, its marks are not moved", "[unit][source]") {
    Sources sources;
    std::string line = "    front 50deg" + std::string(200, 'x');
    const FileId file = sources.add("show.tallow", line);
    Sink sink;
    sink.report(
            Finding::expected, {file, 10, 15},
            std::string("a setting such as `60%` or a palette is ") + "expected here, not what stands here")
        .with_hint("a value stands behind the name of its parameter, as in `pan 30deg`");
    const std::string whole = render(sink.sorted()[0], sources),
                      broken = render(sink.sorted()[0], sources, 40);
    CHECK(whole.find("or a palette is expected here, not what stands here [expected]\n") !=
          std::string::npos);
    std::istringstream lines(broken);
    std::string one, marked;
    for (std::string before; std::getline(lines, one); before = one) {
        INFO(one);
        CHECK(tallow::text::width(one) <= 40);
        if (one.find("^^^^^") != std::string::npos) marked = before.substr(one.find('^'), 5);
    }
    CHECK(marked == "50deg");
    CHECK(broken.find("    expected here") != std::string::npos);
}
