// What tallow-play sends over a network, received by an independent library: npm `sacn` 4.6.2
// (tests/reference/sacn).
#include <catch2/catch.hpp>
#include <chrono>
#include <future>
#include <nlohmann/json.hpp>
#include <thread>

#include "runtime/output/e131_output.hpp"
#include "tests/support/command.hpp"
#include "tests/support/loopback.hpp"
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

const std::string folder = TALLOW_SOURCE_DIR "/tests/reference/sacn";

bool can_receive() {
    const bool can =
        test::installed("node") && test::run("test -d " + quoted(folder + "/node_modules/sacn")).code == 0;
    if (!can)
        WARN(
            "node or its library `sacn` is not installed (`npm ci` in tests/reference/sacn): nothing is "
            "received");
    return can;
}

// One that nobody else listens at, for tests run side by side.
std::uint16_t free_port() {
    return test::Receiver().port();
}

// A receiver of universes 1 and 2, before the command that it runs.
std::string receive(std::uint16_t port) {
    return "node " + quoted(folder + "/receive.js") + " " + std::to_string(port) + " 1,2 ";
}

// What it hears while the command runs.
json heard_during(std::uint16_t port, const std::string& command) {
    const auto ran = test::run(receive(port) + command);
    INFO(ran.out.substr(0, 500));
    REQUIRE(ran.code == 0);
    return json::parse(ran.out);
}

// The same while this program sends.
template <class Send>
json heard_from(std::uint16_t port, Send send) {
    const std::string ready = test::scratch("receiver_ready"), done = test::scratch("receiver_done");
    test::run("rm -f " + quoted(ready) + " " + quoted(done));
    const std::string wait =
        "touch " + quoted(ready) + "; until [ -e " + quoted(done) + " ]; do sleep .05; done";
    auto receiver = std::async(std::launch::async, [&] {
        return test::run("timeout 20 " + receive(port) + "sh -c " + quoted(wait));
    });
    while (test::run("test -e " + quoted(ready)).code != 0 &&
           receiver.wait_for(std::chrono::milliseconds(50)) == std::future_status::timeout) {
    }
    send();
    test::run("touch " + quoted(done));
    const auto ran = receiver.get();
    INFO(ran.out.substr(0, 500));
    REQUIRE(ran.code == 0);
    return json::parse(ran.out);
}

}  // namespace

TEST_CASE("a receiver on loopback gets what the frames file holds", "[reference][e131][play]") {
    if (!can_receive()) return;
    const auto show = test::made_show(35, {{1, 512}, {2, 100}}, 120);
    const std::string frames = test::scratch("received.frames");
    test::write_made(show, frames);
    const std::uint16_t port = free_port();
    const json heard = heard_during(port, quoted(TALLOW_PLAY_COMMAND) + " " + quoted(frames) +
                                              " --sacn 127.0.0.1:" + std::to_string(port) +
                                              " --priority 77 --source-name Ferry --cid"
                                              " 7b3f6c1e-58a2-4d0f-9c35-0123456789ab");
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

TEST_CASE("a receiver gets what packets say beside their slots, by unicast and by multicast",
          "[reference][e131]") {
    if (!can_receive()) return;
    using namespace runtime;
    const bool multicast = GENERATE(false, true);
    const std::uint16_t port = free_port();
    E131Options options;
    options.port = port;  // of multicast
    options.source.name = "Lighthouse";
    options.source.priority = 200;
    options.source.preview = true;
    options.source.synchronization = 3;
    options.multicast = multicast;
    if (multicast)
        options.interfaces = {"127.0.0.1"};
    else
        options.hosts = {{"127.0.0.1", port}};
    const std::vector<Universe> universes{{1, 2}, {2, 2}, {4, 2}};
    const auto outputs = e131_outputs(options, universes, 40);
    REQUIRE(outputs.ok());
    REQUIRE(outputs->size() == 1);
    const Bytes bytes{0x33, 0xff};
    const std::vector<std::span<const std::uint8_t>> slots(3, bytes);
    const json heard = heard_from(port, [&] {
        auto output = outputs->at(0).open();
        REQUIRE(output.ok());
        for (std::uint64_t n = 0; n < 4; ++n) REQUIRE((*output)->frame({n, slots}).ok());
        for (std::uint64_t n = 4; n < 7; ++n) REQUIRE((*output)->end(n).ok());
    });
    CAPTURE(multicast);
    REQUIRE(heard["packets"].size() == 2 * (4 + 3));
    for (std::size_t i = 0; i < heard["packets"].size(); ++i) {
        const json& p = heard["packets"][i];
        CHECK(p["universe"] == 1 + i % 2);
        CHECK(p["sequence"] == i / 2);
        CHECK(p["priority"] == 200);
        CHECK(p["name"] == "Lighthouse");
        CHECK(p["preview"] == true);
        CHECK(p["synchronization"] == 3);
        CHECK(p["last"] == (i / 2 >= 4));
        CHECK(p["slots"].get<std::string>().substr(0, 6) == "33ff00");
    }
    // The library takes data packets alone: it calls what lets receivers show them, and discovery, corrupt.
    CHECK(heard["faults"].size() == (multicast ? 0 : 4));
}
