// Circuits and data runs as the compiler keeps them.
#include <catch2/catch.hpp>

#include "tests/suite/page.hpp"

using namespace tallow;

namespace {

const std::string rig = R"(patch 1/1
    front 1..4      par-rgb
    side 1..2       dimmer
    twin 1..3       par-rgbw ganged
group pair          twin 2
)";

show::Show show_of(const std::string& text) {
    auto compiled = test::compile_text(rig + text, {});
    REQUIRE_FALSE(compiled->failed());
    return std::move(compiled->show);
}

std::vector<std::string> names(const show::Show& show, const std::vector<show::Index>& fixtures) {
    std::vector<std::string> names;
    for (const show::Index f : fixtures) names.push_back(show::fixture_text(show.fixtures[f]));
    return names;
}

using Names = std::vector<std::string>;

}  // namespace

TEST_CASE("a circuit holds its ratings, and its fixtures in their order", "[unit][power]") {
    const show::Show show = show_of(
        "circuit 9 \"Spare\"\ncircuit 7 \"Bar 1\" 230V 16A constant\n"
        "    side 2, 1\n    front 4..3\ncircuit 8 dimmed 6.3A\n");
    REQUIRE(show.circuits.size() == 3);
    const show::Circuit& bar = show.circuits[0];
    CHECK(bar.number == 7);
    CHECK(bar.label == "Bar 1");
    CHECK(bar.supply == show::Supply::constant);
    CHECK(bar.amperes == 16'000'000);
    CHECK(bar.volts == 230'000'000);
    CHECK(names(show, bar.fixtures) == Names{"side 2", "side 1", "front 4", "front 3"});
    CHECK(show.circuits[1].supply == show::Supply::dimmed);
    CHECK(show.circuits[1].amperes == 6'300'000);
    CHECK(show.circuits[1].volts == 0);
    CHECK(show.circuits[2].number == 9);
    CHECK(show.circuits[2].supply == show::Supply::unsaid);
}

TEST_CASE("each body of a gang hangs by itself; a group and `all` bring the whole gang", "[unit][power]") {
    const auto first_circuit = [](const std::string& line) {
        const show::Show show = show_of("circuit 1\n    " + line + "\n");
        return names(show, show.circuits.at(0).fixtures);
    };
    CHECK(first_circuit("twin 2") == Names{"twin 2"});
    CHECK(first_circuit("twin 3..1") == Names{"twin 3", "twin 2", "twin 1"});
    CHECK(first_circuit("twin") == Names{"twin 1", "twin 2", "twin 3"});
    CHECK(first_circuit("pair") == Names{"twin 1", "twin 2", "twin 3"});
    CHECK(first_circuit("all except front, side") == Names{"twin 1", "twin 2", "twin 3"});
}

TEST_CASE("a data run holds its chain, with the radio hops where they are", "[unit][data]") {
    const show::Show show = show_of(R"(data A "Bar 1 run"  from 5-pin
    front 2..1
    wireless
    twin 3, twin 1
data B
    wireless
    side
)");
    REQUIRE(show.data_runs.size() == 2);
    const auto chain = [&](const show::DataRun& run) {
        Names names;
        for (const auto& link : run.chain)
            names.push_back(show::fixture_text(show.fixtures[link.fixture]) +
                            (link.wireless ? " by radio" : ""));
        return names;
    };
    CHECK(show.data_runs[0].name == "A");
    CHECK(show.data_runs[0].label == "Bar 1 run");
    CHECK(show.data_runs[0].outlet == "5-pin");
    CHECK(chain(show.data_runs[0]) == Names{"front 2", "front 1", "twin 3 by radio", "twin 1"});
    CHECK(show.data_runs[1].outlet.empty());
    CHECK(chain(show.data_runs[1]) == Names{"side 1 by radio", "side 2"});
}
