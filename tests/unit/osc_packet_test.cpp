#include "runtime/control/osc_packet.hpp"

#include <bit>
#include <catch2/catch.hpp>
#include <cmath>
#include <limits>

#include "tests/support/random.hpp"

using namespace tallow;
using namespace tallow::runtime;

namespace {

Bytes bytes(const OscMessage& message) {
    const auto written = osc_bytes(message);
    INFO(written.why());
    REQUIRE(written.ok());
    return *written;
}

Bytes from(std::string_view text) {
    return {as_bytes(text).begin(), as_bytes(text).end()};
}

Bytes bundle(const std::vector<Bytes>& elements) {
    Bytes all = from(std::string_view("#bundle\0\0\0\0\0\0\0\0\1", 16));
    for (const Bytes& e : elements) {
        all.resize(all.size() + 4);
        put_big(&all[all.size() - 4], static_cast<std::uint32_t>(e.size()));
        all.insert(all.end(), e.begin(), e.end());
    }
    return all;
}

std::string refused(const Bytes& packet) {
    const auto read = read_osc(packet);
    REQUIRE_FALSE(read.ok());
    return read.why();
}

}  // namespace

TEST_CASE("an OSC message comes back as it was written", "[unit][osc]") {
    const OscMessage message{"/tallow/standby",
                             {osc_integer(-7),
                              osc_integer(std::int64_t{1} << 40),
                              osc_text("lumière"),
                              osc_text(""),
                              {OscArgument::Kind::truth, 1, {}},
                              {OscArgument::Kind::truth, 0, {}},
                              osc_text("four")}};
    const auto read = read_osc(bytes(message));
    REQUIRE(read.ok());
    REQUIRE(read->size() == 1);
    CHECK(read->front() == message);
}

TEST_CASE("an OSC message that cannot be written is refused", "[unit][osc]") {
    CHECK_FALSE(osc_bytes({"tallow", {}}).ok());
    CHECK_FALSE(osc_bytes({std::string("/a\0b", 4), {}}).ok());
    CHECK_FALSE(osc_bytes({"/a", {osc_text(std::string("a\0b", 3))}}).ok());
    CHECK_FALSE(osc_bytes({"/a", {{OscArgument::Kind::fraction, 1, {}}}}).ok());
    CHECK_FALSE(osc_bytes({"/a", std::vector<OscArgument>(osc_arguments + 1)}).ok());
    CHECK_FALSE(osc_bytes({"/a", {osc_text(std::string(osc_packet_bytes, 'x'))}}).ok());
}

TEST_CASE("old senders leave the types of a message without arguments away", "[unit][osc]") {
    const auto read = read_osc(from(std::string_view("/tallow/go\0\0", 12)));
    REQUIRE(read.ok());
    CHECK(read->at(0) == OscMessage{"/tallow/go", {}});
}

TEST_CASE("bundles are read in order, whatever their times", "[unit][osc]") {
    const Bytes a = bytes({"/a", {osc_integer(1)}}), b = bytes({"/b", {}}),
                c = bytes({"/c", {osc_text("x")}});
    const auto read = read_osc(bundle({a, bundle({b, bundle({})}), c}));
    INFO(read.why());
    REQUIRE(read.ok());
    REQUIRE(read->size() == 3);
    CHECK(read->at(0).address + read->at(1).address + read->at(2).address == "/a/b/c");
    CHECK(read_osc(bundle({}))->empty());
}

TEST_CASE("OSC packets have limits", "[unit][osc]") {
    const Bytes a = bytes({"/a", {}});
    CHECK(read_osc(bundle(std::vector<Bytes>(osc_messages, a))).ok());
    CHECK(refused(bundle(std::vector<Bytes>(osc_messages + 1, a))) ==
          "this is no OSC packet: it has more than 64 messages");
    Bytes deep = a;
    for (unsigned i = 0; i < osc_depth; ++i) deep = bundle({deep});
    CHECK(read_osc(deep).ok());
    CHECK(refused(bundle({deep})) == "this is no OSC packet: bundles lie more than 4 deep");
    CHECK(refused(Bytes(osc_packet_bytes + 4, '/')) == "this is no OSC packet: it has more than 8192 bytes");
    CHECK(refused(from(std::string_view("/a\0\0,TTTTTTTTTTTTTTTTT\0\0", 24))) ==
          "this is no OSC packet: it has more than 16 arguments");
}

TEST_CASE("broken OSC packets are refused whole", "[unit][osc]") {
    const Bytes a = bytes({"/a", {}});
    CHECK_FALSE(read_osc({}).ok());
    CHECK_FALSE(read_osc(from("/a")).ok());
    CHECK_FALSE(read_osc(from("/abc")).ok());                                                // no end
    CHECK_FALSE(read_osc(from(std::string_view("abc\0,\0\0\0", 8))).ok());                   // no address
    CHECK_FALSE(read_osc(from(std::string_view("/a\0\0,i\0\0", 8))).ok());                   // no argument
    CHECK_FALSE(read_osc(from(std::string_view("/a\0\0,s\0\0abcd", 12))).ok());              // no end of text
    CHECK_FALSE(read_osc(from(std::string_view("/a\0\0,?\0\0", 8))).ok());                   // no such type
    CHECK_FALSE(read_osc(from(std::string_view("/a\0\0,b\0\0\x7f\xff\xff\xff", 12))).ok());  // a huge blob
    CHECK_FALSE(read_osc(from(std::string_view("/a\0\0,b\0\0\xff\xff\xff\xff", 12))).ok());
    CHECK_FALSE(read_osc(from(std::string_view("/a\0\0,i\0\0\0\0\0\1\0\0\0\2", 16))).ok());  // too much
    CHECK_FALSE(read_osc(from(std::string_view("#bundle\0", 8))).ok());
    Bytes cut = bundle({a, a});
    cut.resize(cut.size() - 4);
    CHECK(refused(cut) == "this is no OSC packet: an element is longer than its bundle");
}

TEST_CASE("what the player does not know is another argument", "[unit][osc]") {
    const auto read = read_osc(from(std::string_view("/a\0\0,bNIf\0\0\0\0\0\0\1x\0\0\0\x7f\xc0\0\0", 24)));
    INFO(read.why());
    REQUIRE(read.ok());
    for (const OscArgument& a : read->at(0).arguments) CHECK(a.kind == OscArgument::Kind::other);
    CHECK(read->at(0).arguments.size() == 4);
}

TEST_CASE("fractions of OSC are rounded as real numbers are", "[unit][osc]") {
    const auto f = [](float x) { return osc_fraction32(std::bit_cast<std::uint32_t>(x)); };
    const auto d = [](double x) { return osc_fraction64(std::bit_cast<std::uint64_t>(x)); };
    CHECK(f(0.5f) == 50000);
    CHECK(f(-12.5f) == -1250000);
    CHECK(f(-0.0f) == 0);
    CHECK(d(1e9) == std::int64_t{100000000000000});
    CHECK_FALSE(d(1.0001e9));
    for (const float x : {1e10f, 3e38f, std::numeric_limits<float>::infinity(), -1e10f,
                          std::numeric_limits<float>::quiet_NaN()})
        CHECK_FALSE(f(x));
    CHECK(f(std::numeric_limits<float>::denorm_min()) == 0);
    CHECK(d(std::numeric_limits<double>::denorm_min()) == 0);
    CHECK_FALSE(d(std::numeric_limits<double>::max()));
    test::Random random(3);
    for (int i = 0; i < 100000; ++i) {
        const auto bits = static_cast<std::uint32_t>(random.bits());
        const double x = std::bit_cast<float>(bits);
        const auto n = osc_fraction32(bits);
        const bool small = std::abs(x) < 999999999.0;
        if (small != n.has_value()) FAIL_CHECK("no fraction: " << x);
        if (small && std::abs(static_cast<double>(*n) - x * 1e5) > 0.500001)
            FAIL_CHECK(x << " is not " << *n);
        const double y = static_cast<double>(random.below(std::uint64_t{1} << 40)) / 1e7;
        if (std::llround(y * 1e5) - d(y).value_or(-9) > 1) FAIL_CHECK(y);
        if (d(y).value_or(-9) - std::llround(y * 1e5) > 1) FAIL_CHECK(y);
    }
}
