#include <catch2/catch.hpp>

#include "compiler/source/diagnostics.hpp"

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
