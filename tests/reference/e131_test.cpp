// Source: ANSI E1.31-2018: offsets and values of the data packet, as SOURCES.md tells. Numbers of tables and
// sections (table 4-1; 6.2.3..6.2.7, framing layer; 9.3.1, multicast) are from memory, not re-read.
#include "runtime/output/e131.hpp"

#include <catch2/catch.hpp>
#include <numeric>

#include "runtime/bytes.hpp"

using namespace tallow::runtime;

namespace {

E131Source some_source() {
    E131Source s;
    std::iota(s.cid.begin(), s.cid.end(), std::uint8_t{0xa0});
    s.name = "Böhle";
    s.priority = 123;
    return s;
}

// The packet, put together field by field as the table has it.
Bytes expected(std::uint8_t sequence, std::uint8_t options, const Bytes& slots) {
    Bytes b;
    const auto add = [&](std::initializer_list<int> bytes) {
        for (const int v : bytes) b.push_back(static_cast<std::uint8_t>(v));
    };
    add({0x00, 0x10, 0x00, 0x00});  // 0: preamble, post-amble
    add({0x41, 0x53, 0x43, 0x2d, 0x45, 0x31, 0x2e, 0x31, 0x37, 0x00, 0x00,
         0x00});                                   // 4: ACN packet identifier
    add({0x72, 0x6e, 0x00, 0x00, 0x00, 0x04});     // 16: length 622, vector
    for (int i = 0; i < 16; ++i) add({0xa0 + i});  // 22: CID
    add({0x72, 0x58, 0x00, 0x00, 0x00, 0x02});     // 38: length 600, vector
    add({0x42, 0xc3, 0xb6, 0x68, 0x6c, 0x65});     // 44: name, UTF-8
    b.resize(108);
    add({123, 0x00, 0x00, sequence, options, 0x12,
         0x34});  // 108: priority, synchronization, sequence, options, universe
    add({0x72, 0x0b, 0x02, 0xa1, 0x00, 0x00, 0x00, 0x01, 0x02, 0x01,
         0x00});  // 115: length 523 … count 513, START code
    b.insert(b.end(), slots.begin(), slots.end());
    b.resize(638);
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
