// Source: ANSI E1.31-2018: offsets and values of the packets, as SOURCES.md tells. Numbers of tables and
// sections (tables 4-1..4-3; 6.2.3..6.2.7, framing layer; 9.3.1 and 9.3.2, multicast) and the IPv6 groups are
// from memory, not re-read.
#include <catch2/catch.hpp>
#include <numeric>

#include "runtime/bytes.hpp"
#include "runtime/output/e131_packets.hpp"

using namespace tallow::runtime;

namespace {

E131Source some_source() {
    E131Source s;
    std::iota(s.cid.begin(), s.cid.end(), std::uint8_t{0xa0});
    s.name = "Böhle";
    s.priority = 123;
    return s;
}

void add(Bytes& to, std::initializer_list<int> bytes) {
    for (const int v : bytes) to.push_back(static_cast<std::uint8_t>(v));
}

// Bytes 0..37, up to the CID; `length` and `vector` are those of the root layer.
Bytes root(int length_high, int length_low, int vector) {
    Bytes b;
    add(b, {0x00, 0x10, 0x00, 0x00});  // 0: preamble, post-amble
    add(b, {0x41, 0x53, 0x43, 0x2d, 0x45, 0x31, 0x2e, 0x31, 0x37, 0x00, 0x00,
            0x00});  // 4: ACN packet identifier
    add(b, {length_high, length_low, 0x00, 0x00, 0x00, vector});
    for (int i = 0; i < 16; ++i) add(b, {0xa0 + i});  // 22: CID
    return b;
}

// The data packet, put together field by field as the table has it.
Bytes expected(std::uint8_t sequence, std::uint8_t options, const Bytes& slots, int synchronization = 0) {
    Bytes b = root(0x72, 0x6e, 4);                 // length 622
    add(b, {0x72, 0x58, 0x00, 0x00, 0x00, 0x02});  // 38: length 600, vector
    add(b, {0x42, 0xc3, 0xb6, 0x68, 0x6c, 0x65});  // 44: name, UTF-8
    b.resize(108);
    add(b, {123, synchronization >> 8, synchronization & 0xff, sequence, options, 0x12,
            0x34});  // 108: priority, synchronization, sequence, options, universe
    add(b, {0x72, 0x0b, 0x02, 0xa1, 0x00, 0x00, 0x00, 0x01, 0x02, 0x01,
            0x00});  // 115: length 523 … count 513, START code
    b.insert(b.end(), slots.begin(), slots.end());
    b.resize(638);
    return b;
}

Bytes expected_sync(std::uint8_t sequence) {
    Bytes b = root(0x70, 0x21, 8);                 // length 33
    add(b, {0x70, 0x0b, 0x00, 0x00, 0x00, 0x01});  // 38: length 11, vector
    add(b, {sequence, 0x03, 0xe9, 0x00, 0x00});    // 44: sequence, synchronization, reserved
    return b;
}

// One page; the lengths of the layers are worked out by the test.
Bytes expected_discovery(int root_length, int framing_length, int list_length, int page, int last,
                         const std::vector<int>& universes) {
    Bytes b = root(0x70 | root_length >> 8, root_length & 0xff, 8);
    add(b, {0x70 | framing_length >> 8, framing_length & 0xff, 0x00, 0x00, 0x00, 0x02});  // 38
    add(b, {0x42, 0xc3, 0xb6, 0x68, 0x6c, 0x65});                                         // 44: name
    b.resize(112);                                                                        // 108: reserved
    add(b, {0x70 | list_length >> 8, list_length & 0xff, 0x00, 0x00, 0x00, 0x01, page, last});  // 112
    for (const int u : universes) add(b, {u >> 8, u & 0xff});                                   // 120
    return b;
}

Bytes bytes_of(std::span<const std::uint8_t> s) {
    return {s.begin(), s.end()};
}

}  // namespace

TEST_CASE("a data packet has every byte where E1.31 has it", "[reference][e131]") {
    E131Packet packet(some_source(), 0x1234);
    Bytes slots(512);
    std::iota(slots.begin(), slots.end(), std::uint8_t{1});
    packet.take(slots);
    CHECK(bytes_of(packet.next()) == expected(0, 0x00, slots));
    CHECK(bytes_of(packet.next()) == expected(1, 0x00, slots));
    CHECK(bytes_of(packet.next(true)) == expected(2, 0x40, slots));
    CHECK(bytes_of(packet.next()) == expected(3, 0x00, slots));
}

TEST_CASE("a data packet says what it is for and what it waits for", "[reference][e131]") {
    E131Source source = some_source();
    source.preview = true;
    CHECK(bytes_of(E131Packet(source, 0x1234).next()) == expected(0, 0x80, {}));
    CHECK(bytes_of(E131Packet(source, 0x1234).next(true)) == expected(0, 0xc0, {}));
    source.synchronization = 1001;
    source.force_synchronization = true;
    CHECK(bytes_of(E131Packet(source, 0x1234).next()) == expected(0, 0xa0, {}, 1001));
    source.preview = false;
    CHECK(bytes_of(E131Packet(source, 0x1234).next()) == expected(0, 0x20, {}, 1001));
    CHECK(bytes_of(E131Packet(source, 0x1234).next(true)) == expected(0, 0x60, {}, 1001));
}

TEST_CASE("a synchronization packet has every byte where E1.31 has it", "[reference][e131]") {
    E131Source source = some_source();
    source.synchronization = 1001;
    E131SyncPacket packet(source);
    for (unsigned i = 0; i < 600; ++i)
        REQUIRE(bytes_of(packet.next()) == expected_sync(static_cast<std::uint8_t>(i)));
}

TEST_CASE("a universe discovery packet has every byte where E1.31 has it", "[reference][e131]") {
    const auto pages = e131_discovery(some_source(), {0x1234, 7, 63999});
    REQUIRE(pages.size() == 1);  // 120 + 6 bytes: 110, 88 and 14 from each layer's beginning
    CHECK(pages[0] == expected_discovery(110, 88, 14, 0, 0, {7, 0x1234, 63999}));
}

TEST_CASE("universe discovery has 512 universes to a page", "[reference][e131]") {
    std::vector<std::uint16_t> universes(1025);
    std::iota(universes.begin(), universes.end(), std::uint16_t{1});
    const auto pages = e131_discovery(some_source(), universes);
    REQUIRE(pages.size() == 3);
    for (int page = 0; page < 2; ++page) {
        std::vector<int> list(512);
        std::iota(list.begin(), list.end(), 1 + 512 * page);
        CHECK(pages[page] == expected_discovery(104 + 1024, 82 + 1024, 8 + 1024, page, 2, list));
    }
    CHECK(pages[2] == expected_discovery(106, 84, 10, 2, 2, {1025}));
    universes.resize(1024);
    CHECK(e131_discovery(some_source(), universes).size() == 2);
    universes.resize(63999);
    std::iota(universes.begin(), universes.end(), std::uint16_t{1});
    CHECK(e131_discovery(some_source(), universes).size() == 125);
}

TEST_CASE("a packet has 512 slots however many the universe uses", "[reference][e131]") {
    E131Packet packet(some_source(), 0x1234);
    packet.take(Bytes{9, 8, 7});
    CHECK(bytes_of(packet.next()) == expected(0, 0x00, {9, 8, 7}));
}

TEST_CASE("the sequence number wraps at 256", "[reference][e131]") {
    E131Packet packet(some_source(), 1);
    for (int i = 0; i < 600; ++i) REQUIRE(packet.next()[111] == i % 256);
}

TEST_CASE("a universe's multicast address is 239.255.hi.lo", "[reference][e131]") {
    CHECK(e131_multicast(1) == 0xefff0001);
    CHECK(e131_multicast(63999) == 0xefff0000 + 63999);
    CHECK(e131_multicast(64214) == 0xeffffad6);  // discovery: 239.255.250.214
}

TEST_CASE("a universe's IPv6 multicast address is ff18::83:00:hi:lo", "[reference][e131]") {
    CHECK(e131_multicast_v6(0x1234) ==
          Ipv6Bytes{0xff, 0x18, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0x83, 0x00, 0x12, 0x34});
    CHECK(e131_multicast_v6(64214) ==
          Ipv6Bytes{0xff, 0x18, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0x83, 0x00, 0xfa, 0xd6});
}

// E1.31, 6.6.2: three more packets of unchanged data, then one every 800 to 1000 ms.
TEST_CASE("unchanged data goes out three more times, then every 800 to 1000 ms", "[reference][e131]") {
    for (std::uint32_t refresh = 1; refresh <= 44; ++refresh) {
        E131Pace pace(refresh);
        std::vector<std::uint64_t> sent;
        const std::uint64_t change = 1000;  // frame 0 is the first, frame 1000 the only one that changes
        for (std::uint64_t n = 0; n < 2000; ++n)
            if (pace.due(n, n == change)) sent.push_back(n);
        CAPTURE(refresh);
        for (const std::uint64_t begin : {std::uint64_t{0}, change}) {
            auto at = std::find(sent.begin(), sent.end(), begin);
            REQUIRE(sent.end() - at > 6);
            for (std::uint64_t i = 0; i <= 3; ++i) REQUIRE(*at++ == begin + i);
            for (; at != sent.end() && *at != change; ++at) {
                const std::uint64_t gap_ms_times_refresh = (*at - *(at - 1)) * 1000;
                REQUIRE(gap_ms_times_refresh >= 800 * refresh);
                REQUIRE(gap_ms_times_refresh <= 1000 * refresh);
            }
        }
    }
}

TEST_CASE("data that changes goes out on every frame", "[reference][e131]") {
    E131Pace pace(40);
    for (std::uint64_t n = 0; n < 200; ++n) REQUIRE(pace.due(n, true));
}
