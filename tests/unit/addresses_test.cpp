// Addresses, their switches, and the hookup as sheets.
#include "compiler/desk/addresses.hpp"

#include <algorithm>
#include <catch2/catch.hpp>

#include "tests/support/desk_show.hpp"

using namespace tallow;
using Json = nlohmann::json;

// Common practice, no source: the switches are worth 1, 2, 4 to 256, and add up to the address.
TEST_CASE("binary switches add up to the address", "[unit][desk][fit]") {
    CHECK(desk::switches_text(1) == "1");
    CHECK(desk::switches_text(12) == "4 8");
    CHECK(desk::switches_text(100) == "4 32 64");
    CHECK(desk::switches_text(255) == "1 2 4 8 16 32 64 128");
    CHECK(desk::switches_text(256) == "256");
    CHECK(desk::switches_text(511) == "1 2 4 8 16 32 64 128 256");
    CHECK(desk::switches_text(512) == "512");
    for (std::uint16_t address = 1; address <= 511; ++address) {
        int sum = 0, before = 0;
        for (const std::uint16_t value : desk::switches_of(address)) {
            CHECK(value > before);
            CHECK(value <= 256);
            before = value;
            sum += value;
        }
        CHECK(sum == address);
    }
}

TEST_CASE("the sheets tell addresses and hookup", "[unit][desk][fit]") {
    const auto show = test::desk_show(R"(type spot
    mode  long  pan pan.fine - intensity
patch 1/12
    spot 1..2  spot
    cyc        strip-4
    twin 1..2  dimmer  ganged  at 1/7
desk hall
    layout  one  20 channels  1 scene
    channel 13 is 1/30
cue 1
    all  50%
)");
    const Json& addresses = show.table("addresses");
    REQUIRE(addresses.size() == 5);
    CHECK(addresses[0]["fixture"] == "twin 1");
    CHECK(addresses[1]["address"] == 7);
    CHECK(addresses[2]["switches"] == "4 8");
    CHECK(addresses[2]["channels"] == "12, 14-15");  // the fine byte's channel plays another slot
    const Json& hookup = show.table("hookup");
    REQUIRE(hookup.size() == 1 + 8 + 12);
    CHECK(hookup[0] ==
          Json{{"channel", 7}, {"slot", "1/7"}, {"fixture", "twin 1, twin 2"}, {"part", "intensity"}});
    CHECK(hookup[2] ==
          Json{{"channel", nullptr}, {"slot", "1/13"}, {"fixture", "spot 1"}, {"part", "pan fine"}});
    CHECK(hookup[3]["part"] == "not used");
    CHECK(hookup[9]["part"] == "cell 1 red");
    const auto& sheets = show.sheets.sheets;
    const auto sheet =
        std::find_if(sheets.begin(), sheets.end(), [](const auto& s) { return s.id == "addresses"; });
    REQUIRE(sheet != sheets.end());
    CHECK(emit::text(show.sheets, *sheet).find("Addresses and hookup") != std::string::npos);
}

TEST_CASE("slots that channel lines push off the desk are lost", "[unit][desk]") {
    const std::string rig =
        "patch 1/1\n    front 1..4  dimmer\ncue 1\n    front 2..3  50%\ncue 2\n    front 1..2  out\n";
    const std::string layout = "desk hall\n    layout  one  20 channels  1 scene\n";
    const auto plain = test::desk_show(rig + layout);
    CHECK(plain.table("fit")[0]["lost"] == 0);
    // Slots 2 and 3 lose their channels: cue 1 lights both, cue 2 one of them.
    const auto pushed = test::desk_show(rig + layout + "    channel 2 is 1/10\n    channel 3 is 1/11\n");
    CHECK(pushed.table("fit")[0]["lost"] == 3);
    CHECK(pushed.table("fit")[0]["fits"] == "no");
    CHECK(std::string(pushed.table("fit")[0]["why"]).find("2 lit slots on no channel") != std::string::npos);
    CHECK(pushed.table("losses").dump().find("front 3 intensity: its slot is on no channel") !=
          std::string::npos);
}
