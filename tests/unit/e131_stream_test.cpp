#include "runtime/output/e131_stream.hpp"

#include <catch2/catch.hpp>

#include "tests/support/allocations.hpp"

using namespace tallow;
using namespace tallow::runtime;

namespace {

// What was sent: at which frames, by universe.
using Sent = std::vector<std::uint64_t>;

// Universes whose slots stay 0 unless a test sets them.
struct Slots {
    explicit Slots(std::span<const Universe> universes) {
        for (const Universe& u : universes) bytes.emplace_back(u.slots);
        for (const Bytes& b : bytes) spans.emplace_back(b);
    }
    std::vector<Bytes> bytes;
    std::vector<std::span<const std::uint8_t>> spans;
};

std::vector<std::uint16_t> universes_of(std::span<const Datagram> packets) {
    std::vector<std::uint16_t> all;
    for (const Datagram& d : packets) all.push_back(d.universe);
    return all;
}

}  // namespace

TEST_CASE("each universe is sent when it changes or is due", "[unit][e131]") {
    const std::vector<Universe> universes{{3, 2}, {9, 1}};
    E131Stream stream({}, universes, 10);
    Slots slots(universes);
    Sent third, ninth;
    for (std::uint64_t n = 0; n < 20; ++n) {
        if (n == 10) slots.bytes[1][0] = 200;
        for (const Datagram& d : stream.frame({n, slots.spans})) {
            if (d.universe == 3) third.push_back(n);
            if (d.universe == 9) ninth.push_back(n);
        }
    }
    CHECK(third == Sent{0, 1, 2, 3, 11, 19});  // 800 ms are 8 frames
    CHECK(ninth == Sent{0, 1, 2, 3, 10, 11, 12, 13});
    const auto last = stream.end();
    REQUIRE(universes_of(last) == std::vector<std::uint16_t>{3, 9});
    CHECK(last[1].bytes[112] == 0x40);
    CHECK(last[1].bytes[126] == 200);
}

TEST_CASE("a synchronization packet follows the data of each frame that has any", "[unit][e131]") {
    const std::vector<Universe> universes{{3, 2}, {9, 1}};
    E131Source source;
    source.synchronization = 77;
    E131Stream stream(source, universes, 10, {.universes = {}, .discovery = false});
    Slots slots(universes);
    std::uint8_t sequence = 0;
    for (std::uint64_t n = 0; n < 40; ++n) {
        if (n == 20) slots.bytes[0][1] = 5;
        const auto packets = stream.frame({n, slots.spans});
        CAPTURE(n);
        const bool both = n <= 3 || n == 11 || n == 19;
        const bool one = (n >= 20 && n <= 23) || n == 27 || n == 31 || n == 35 || n == 39;
        REQUIRE(packets.size() == (both ? 3 : one ? 2 : 0));
        if (packets.empty()) continue;
        REQUIRE(packets.back().universe == 77);
        REQUIRE(packets.back().bytes.size() == E131SyncPacket::size);
        REQUIRE(packets.back().bytes[44] == sequence++);
        for (const Datagram& d : packets.first(packets.size() - 1)) REQUIRE(d.bytes[110] == 77);
    }
    CHECK(universes_of(stream.end()) == std::vector<std::uint16_t>{3, 9});
}

TEST_CASE("the universes are announced every ten seconds, and with the first frame", "[unit][e131]") {
    const std::vector<Universe> universes{{9, 1}, {3, 2}};
    E131Source source;
    source.synchronization = 5;
    E131Stream stream(source, universes, 4);
    const Slots slots(universes);
    Sent sent;
    for (std::uint64_t n = 1000; n < 1100; ++n)
        for (const Datagram& d : stream.frame({n, slots.spans}))
            if (d.universe == 64214) {
                sent.push_back(n);
                CHECK(d.bytes.size() == 120 + 2 * 3);
                CHECK(Bytes(d.bytes.begin() + 120, d.bytes.end()) == Bytes{0, 3, 0, 5, 0, 9});
            }
    CHECK(sent == Sent{1000, 1040, 1080});
}

TEST_CASE("a restart sends everything again, and goes on with the numbers", "[unit][e131]") {
    const std::vector<Universe> universes{{3, 2}};
    E131Stream stream({}, universes, 10);
    const Slots slots(universes);
    for (std::uint64_t n = 0; n < 6; ++n) (void)stream.frame({n, slots.spans});
    CHECK(stream.frame({6, slots.spans}).empty());
    stream.restart();
    const auto packets = stream.frame({7, slots.spans});
    REQUIRE(universes_of(packets) == std::vector<std::uint16_t>{3, 64214});
    CHECK(packets[0].bytes[111] == 4);  // after 0..3
}

TEST_CASE("universes that were not chosen are neither sent nor announced", "[unit][e131]") {
    const std::vector<Universe> universes{{1, 1}, {2, 1}, {3, 1}, {40, 1}, {50, 1}};
    E131Stream stream({}, universes, 10, {.universes = {{2, 3}, {50, 60}}, .discovery = true});
    CHECK(stream.universes() == 3);
    Slots slots(universes);
    for (std::size_t i = 0; i < 5; ++i) slots.bytes[i][0] = static_cast<std::uint8_t>(10 + i);
    const auto packets = stream.frame({0, slots.spans});
    REQUIRE(universes_of(packets) == std::vector<std::uint16_t>{2, 3, 50, 64214});
    CHECK(packets[0].bytes[126] == 11);
    CHECK(packets[1].bytes[126] == 12);
    CHECK(packets[2].bytes[126] == 14);
    CHECK(Bytes(packets[3].bytes.begin() + 120, packets[3].bytes.end()) == Bytes{0, 2, 0, 3, 0, 50});
    CHECK(universes_of(stream.end()) == std::vector<std::uint16_t>{2, 3, 50});
}

TEST_CASE("a stream allocates nothing once it is there", "[unit][e131]") {
    std::vector<Universe> universes;
    for (std::uint16_t u = 1; u <= 700; ++u) universes.push_back({u, 512});
    E131Source source;
    source.synchronization = 900;
    E131Stream stream(source, universes, 40);
    Slots slots(universes);
    const std::size_t before = test::allocations();
    std::size_t packets = 0;
    for (std::uint64_t n = 0; n < 900; ++n) {
        slots.bytes[n % 700][n % 512] ^= 1;
        packets += stream.frame({n, slots.spans}).size();
    }
    packets += stream.end().size();
    const std::size_t after = test::allocations();
    CHECK(after == before);
    CHECK(packets > 10000);
}
