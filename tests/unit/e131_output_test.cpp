#include "runtime/output/e131_output.hpp"

#include <catch2/catch.hpp>

#include "runtime/files.hpp"
#include "tests/support/loopback.hpp"
#include "tests/support/made_frames.hpp"

using namespace tallow;
using namespace tallow::runtime;
using test::Receiver;

namespace {

const std::vector<Universe> universes{{1, 4}, {2, 4}};
const Bytes levels{1, 2, 3, 4};
const std::vector<std::span<const std::uint8_t>> slots{levels, levels};

std::vector<std::string> names(const E131Options& options) {
    const auto outputs = e131_outputs(options, universes, 40);
    REQUIRE(outputs.ok());
    std::vector<std::string> all;
    for (const NamedOutput& o : *outputs) all.push_back(o.name);
    return all;
}

std::string refused(const E131Options& options) {
    const std::string why = e131_outputs(options, universes, 40).why();
    CHECK(e131_capture(options, test::scratch("refused.pcap"), universes, 40).why() == why);
    return why;
}

}  // namespace

TEST_CASE("there is an output for each destination", "[unit][e131]") {
    E131Options options;
    CHECK(names(options).empty());
    options.hosts = {{"10.0.0.7"}, {"node", 99}};
    CHECK(names(options) == std::vector<std::string>{"E1.31 to 10.0.0.7", "E1.31 to node, port 99"});
    options.hosts.clear();
    options.multicast = true;
    CHECK(names(options) == std::vector<std::string>{"E1.31 multicast"});
    options.interfaces = {"eth0", "10.0.0.2"};
    options.versions.v6 = true;
    CHECK(names(options) == std::vector<std::string>{"E1.31 multicast through eth0",
                                                     "E1.31 multicast over IPv6 through eth0",
                                                     "E1.31 multicast through 10.0.0.2",
                                                     "E1.31 multicast over IPv6 through 10.0.0.2"});
}

TEST_CASE("options that cannot be are refused", "[unit][e131]") {
    E131Options options;
    options.multicast = true;
    options.source.priority = 201;
    CHECK(refused(options) == "an E1.31 priority is 0..200; 201 is none");
    options.source = {};
    options.source.synchronization = 64000;
    CHECK(refused(options) == "the universe of synchronization is one of 1..63999; 64000 is none");
    options.source = {};
    options.source.force_synchronization = true;
    CHECK(refused(options).find("receivers that may go on without synchronization packets need") == 0);
    options.source = {};
    options.selection.universes = {{1, 9}, {3, 9}};
    CHECK(refused(options) == "the show has no universe 3..9: it has 1, 2; choose of these");
    options.selection.universes = {{2, 9}, {7, 7}};
    CHECK(refused(options) == "the show has no universe 7: it has 1, 2; choose of these");
}

TEST_CASE("an output that is opened again goes on with its numbers", "[unit][e131]") {
    Receiver receiver;
    E131Options options;
    options.hosts = {{"127.0.0.1", receiver.port()}};
    const auto outputs = e131_outputs(options, universes, 40);
    REQUIRE(outputs.ok());
    for (std::uint8_t round = 0; round < 3; ++round) {
        auto output = outputs->at(0).open();
        REQUIRE(output.ok());
        REQUIRE((*output)->frame({100u + round, slots}).ok());
        for (const int u : {1, 2}) {  // whole, and no discovery to a host
            const Bytes packet = receiver.next();
            REQUIRE(packet.size() == 638);
            CHECK(packet[111] == round);
            CHECK(packet[114] == u);
            CHECK(packet[126] == 1);
        }
        CHECK(receiver.next().empty());
    }
}

TEST_CASE("a destination that cannot be reached keeps no other from its packets", "[unit][e131]") {
    Receiver receiver;
    E131Options options;
    options.hosts = {{"no.such.host.invalid"}, {"127.0.0.1", receiver.port()}};
    const auto outputs = e131_outputs(options, universes, 40);
    REQUIRE(outputs.ok());
    CHECK(outputs->at(0).open().why().find("cannot find host `no.such.host.invalid`: ") == 0);
    auto second = outputs->at(1).open();
    REQUIRE(second.ok());
    REQUIRE((*second)->frame({0, slots}).ok());
    CHECK(receiver.next().size() == 638);
}

TEST_CASE("a capture is written anew each time it is opened", "[unit][e131]") {
    const std::string path = test::scratch("reopened.pcap");
    const auto capture = e131_capture({}, path, universes, 40);
    REQUIRE(capture.ok());
    CHECK(capture->name == "capture " + path);
    const std::size_t data = 16 + 20 + 8 + 638, discovery = 16 + 20 + 8 + 124;
    for (int round = 0; round < 2; ++round) {
        auto output = capture->open();
        REQUIRE(output.ok());
        REQUIRE((*output)->frame({5, slots}).ok());
        REQUIRE((*output)->end(6).ok());
        REQUIRE((*output)->finish().ok());
        const auto text = read_file(path, 100000);
        REQUIRE(text.ok());
        CHECK(text->size() == 24 + 4 * data + discovery);
    }
}
