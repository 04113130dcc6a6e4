#include <catch2/catch.hpp>
#include <set>

#include "runtime/output/e131_packets.hpp"

using namespace tallow::runtime;

TEST_CASE("an identifier is read from a UUID, and from nothing else", "[unit][e131]") {
    const auto cid = parse_cid("00112233-4455-4677-8899-AaBbCcDdEeFf");
    REQUIRE(cid);
    CHECK(*cid == Cid{0x00, 0x11, 0x22, 0x33, 0x44, 0x55, 0x46, 0x77, 0x88, 0x99, 0xaa, 0xbb, 0xcc, 0xdd,
                      0xee, 0xff});
    CHECK_FALSE(parse_cid(""));
    CHECK_FALSE(parse_cid("00112233-4455-4677-8899-aabbccddeef"));
    CHECK_FALSE(parse_cid("00112233-4455-4677-8899-aabbccddeefg"));
    CHECK_FALSE(parse_cid("001122334-455-4677-8899-aabbccddeeff"));
}

TEST_CASE("a new identifier is a version 4 UUID, each time another", "[unit][e131]") {
    std::set<Cid> seen;
    for (int i = 0; i < 100; ++i) {
        const auto cid = random_cid();
        REQUIRE(cid.ok());
        CHECK((*cid)[6] >> 4 == 4);
        CHECK((*cid)[8] >> 6 == 2);
        seen.insert(*cid);
    }
    CHECK(seen.size() == 100);
}

TEST_CASE("a long source name is cut between two characters", "[unit][e131]") {
    CHECK(fitted_name(std::string(63, 'a')) == std::string(63, 'a'));
    CHECK(fitted_name(std::string(64, 'a')) == std::string(63, 'a'));
    CHECK(fitted_name(std::string(62, 'a') + "ö") == std::string(62, 'a'));
    CHECK(fitted_name(std::string(61, 'a') + "ö") == std::string(61, 'a') + "ö");
}

TEST_CASE("a packet says whether its levels changed", "[unit][e131]") {
    E131Packet packet({}, 1);
    const std::uint8_t dark[2]{0, 0}, lit[2]{0, 1};
    CHECK_FALSE(packet.take(dark));
    CHECK(packet.take(lit));
    CHECK_FALSE(packet.take(lit));
}
