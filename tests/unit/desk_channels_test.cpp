// Channels of a desk that are not one to one with the slots of its universe.
#include <catch2/catch.hpp>

#include "tests/support/desk_show.hpp"

using namespace tallow;
using Json = nlohmann::json;

namespace {

const char* const hall = R"(patch 1/1
    front 1..4    dimmer
patch 2/1
    back 1..2     par-rgb
desk hall  plays universe 1
    layout  one   8 channels  1 scene
    channel 7 is 1/2
    channel 3 is 2/1
cue 1  fade 1s
    front 1       10%
    front 2       20%
    front 3       30%
    front 4       40%
    back          emitter red full  50%  fade 3s
)";

}  // namespace

TEST_CASE("a channel line puts a slot on its channel, and the slot leaves its own", "[unit][desk]") {
    const auto show = test::desk_show(hall);
    std::vector<std::string> rows;
    for (const Json& row : show.table("channels"))
        rows.push_back(row.at("channel").dump() + " " + std::string(row.at("slot")) + " " +
                       std::string(row.at("what")));
    // Channel 2 is free: its slot went to 7. Slot 1/3 lost its channel to slot 2/1.
    CHECK(rows == std::vector<std::string>{"1 1/1 front 1 intensity", "3 2/1 * back 1 red",
                                           "4 1/4 front 4 intensity", "7 1/2 * front 2 intensity"});
    const Json& preset = show.table("presets").at(0);
    CHECK(preset.at("1") == 10);
    CHECK(preset.at("3") == 50);
    CHECK(preset.at("4") == 40);
    CHECK(preset.at("7") == 20);
    CHECK_FALSE(preset.contains("2"));
}

TEST_CASE("the sheets say which fixtures are on no channel", "[unit][desk]") {
    const auto show = test::desk_show(hall);
    const std::string fit = emit::text(show.sheets, show.sheets.sheets.at(0));
    CHECK(fit.find("uses 4 channels; the highest is 7") != std::string::npos);
    CHECK(fit.find("2 fixtures on no channel") != std::string::npos);  // front 3, back 2
}

TEST_CASE("a time on a slot of another universe is a loss only where a channel plays it", "[unit][desk]") {
    const auto times = [](const std::string& show_text) {
        const auto show = test::desk_show(show_text);
        std::size_t count = 0;
        for (const Json& row : show.table("losses")) count += row.at("kind") == "time" ? 1u : 0u;
        return count;
    };
    std::string without = hall;
    const std::string line = "    channel 3 is 2/1\n";
    without.erase(without.find(line), line.size());
    CHECK(times(hall) == 1);
    CHECK(times(without) == 0);
}
