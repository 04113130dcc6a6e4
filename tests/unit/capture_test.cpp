#include <catch2/catch.hpp>
#include <unistd.h>

#include "runtime/bytes.hpp"
#include "runtime/files.hpp"
#include "runtime/output/carrier.hpp"
#include "tests/support/made_frames.hpp"

using namespace tallow;
using namespace tallow::runtime;

namespace {

std::string captured(const std::string& name, const Datagram& packet, IpVersions versions) {
    const std::string path = test::scratch(name);
    auto carrier = capture_carrier(path, 40, versions);
    REQUIRE(carrier.ok());
    REQUIRE((*carrier)->send(std::span(&packet, 1), 121).ok());
    REQUIRE((*carrier)->finish().ok());
    auto text = read_file(path, 10000);
    REQUIRE(text.ok());
    return *text;
}

// Ones' complement sums over header and pseudo header come out as all ones (RFC 1071).
bool sums_up(std::span<const std::uint8_t> bytes, std::uint32_t sum = 0) {
    for (std::size_t i = 0; i < bytes.size(); i += 2) sum += get_big<std::uint16_t>(&bytes[i]);
    while (sum >> 16) sum = (sum & 0xffff) + (sum >> 16);
    return sum == 0xffff;
}

const Bytes payload(638, 0x5a);

}  // namespace

TEST_CASE("a capture is a pcap file of whole packets", "[unit][output]") {
    const std::string text = captured("output.pcap", {0x1234, payload}, {});
    const auto b = as_bytes(text);
    REQUIRE(b.size() == 24 + 16 + 20 + 8 + 638);
    CHECK(get_little<std::uint32_t>(&b[0]) == 0xa1b2c3d4);
    CHECK(get_little<std::uint32_t>(&b[20]) == 101);
    CHECK(get_little<std::uint32_t>(&b[24]) == 3);  // frame 121 at 40 Hz: 3.025 s
    CHECK(get_little<std::uint32_t>(&b[28]) == 25000);
    CHECK(get_big<std::uint32_t>(&b[40 + 16]) == 0xefff1234);
    CHECK(get_big<std::uint16_t>(&b[40 + 20 + 2]) == 5568);
    CHECK(sums_up(b.subspan(40, 20)));
    CHECK(sums_up(b.subspan(40 + 12), 17 + 8 + 638));
}

TEST_CASE("a capture holds IPv6 packets, beside IPv4 or alone", "[unit][output]") {
    const std::string both = captured("both.pcap", {0x1234, payload}, {.v4 = true, .v6 = true});
    const std::string alone = captured("v6.pcap", {0x1234, payload}, {.v4 = false, .v6 = true});
    REQUIRE(alone.size() == 24 + 16 + 40 + 8 + 638);
    REQUIRE(both.size() == alone.size() + 16 + 20 + 8 + 638);
    CHECK(both.substr(24 + 16 + 20 + 8 + 638) == alone.substr(24));
    const auto b = as_bytes(alone);
    CHECK(get_little<std::uint32_t>(&b[32]) == 40 + 8 + 638);
    CHECK(get_big<std::uint32_t>(&b[40]) == 0x60000000);
    CHECK(get_big<std::uint16_t>(&b[40 + 4]) == 8 + 638);
    CHECK(b[40 + 6] == 17);
    CHECK(Bytes(b.begin() + 40 + 24, b.begin() + 80) ==
          Bytes{0xff, 0x18, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0x83, 0, 0x12, 0x34});
    CHECK(sums_up(b.subspan(40 + 8), 17 + 8 + 638));
}

TEST_CASE("a capture that is not finished leaves nothing", "[unit][output]") {
    const std::string path = test::scratch("unfinished.pcap");
    ::unlink(path.c_str());
    REQUIRE(capture_carrier(path, 40, {}).ok());
    CHECK(::access(path.c_str(), F_OK) != 0);
}

TEST_CASE("a capture that cannot be opened says where", "[unit][output]") {
    const auto file = capture_carrier("/no/such/folder/x.pcap", 40, {});
    REQUIRE_FALSE(file.ok());
    CHECK(file.why().find("/no/such/folder/x.pcap`: No such file or directory") != std::string::npos);
}
