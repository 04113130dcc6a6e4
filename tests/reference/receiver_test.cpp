// What tallow-play sends over a network, received by an independent library: npm `sacn` 4.6.2
// (tests/reference/sacn).
#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "tests/support/command.hpp"
#include "tests/support/made_frames.hpp"

using namespace tallow;
using nlohmann::json;
using test::quoted;

namespace {

// The slots of one universe in hexadecimal, a line for each change.
std::vector<std::string> changes(const test::MadeShow& show, std::size_t at, std::size_t slots) {
    std::vector<std::string> all;
    for (const auto& frame : show.frames) {
        std::string text = test::hex_slots(frame, at, slots);
        if (all.empty() || all.back() != text) all.push_back(std::move(text));
    }
    return all;
}

std::vector<std::string> received_changes(const json& packets, unsigned universe) {
    std::vector<std::string> all;
    for (const json& p : packets)
        if (p["universe"] == universe && (all.empty() || all.back() != p["slots"])) all.push_back(p["slots"]);
    return all;
}

bool in_order_within(const std::vector<std::string>& some, const std::vector<std::string>& all) {
    auto at = all.begin();
    for (const std::string& s : some) {
        at = std::find(at, all.end(), s);
        if (at == all.end()) return false;
        ++at;
    }
    return true;
}

}  // namespace

TEST_CASE("a receiver on loopback gets what the frames file holds", "[reference][e131][play]") {
    const std::string folder = TALLOW_SOURCE_DIR "/tests/reference/sacn";
    if (!test::installed("node") || test::run("test -d " + quoted(folder + "/node_modules/sacn")).code != 0) {
        WARN(
            "node or its library `sacn` is not installed (`npm ci` in tests/reference/sacn): nothing is "
            "received");
        return;
    }
    const auto show = test::made_show(35, {{1, 512}, {2, 100}}, 120);
    const std::string frames = test::scratch("received.frames");
    test::write_made(show, frames);
    const auto ran =
        test::run("node " + quoted(folder + "/receive.js") + " 1,2 " + quoted(TALLOW_PLAY_COMMAND) + " " +
                  quoted(frames) + " --sacn 127.0.0.1 --priority 77 --source-name Ferry --cid" +
                  " 7b3f6c1e-58a2-4d0f-9c35-0123456789ab");
    INFO(ran.out.substr(0, 500));
    REQUIRE(ran.code == 0);
    const json heard = json::parse(ran.out);
    CHECK(heard["code"] == 0);
    CHECK(heard["faults"].empty());

    unsigned ends[3]{}, next[3]{};
    for (const json& p : heard["packets"]) {
        const unsigned u = p["universe"];
        REQUIRE((u == 1 || u == 2));
        REQUIRE(p["sequence"] == next[u]++ % 256);
        REQUIRE(p["priority"] == 77);
        REQUIRE(p["name"] == "Ferry");
        REQUIRE(p["cid"] == "7b3f6c1e58a24d0f9c350123456789ab");
        if (p["last"]) ++ends[u];
    }
    CHECK(ends[1] == 3);
    CHECK(ends[2] == 3);

    const bool kept_up = heard["said"].get<std::string>().find("left out") == std::string::npos;
    for (const unsigned u : {1u, 2u}) {
        const auto sent = u == 1 ? changes(show, 0, 512) : changes(show, 512, 100);
        const auto got = received_changes(heard["packets"], u);
        REQUIRE(sent.size() > 20);
        CHECK(in_order_within(got, sent));
        if (kept_up) CHECK(got.size() == sent.size());
    }
}
