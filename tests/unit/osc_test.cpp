#include "runtime/control/osc.hpp"

#include <arpa/inet.h>
#include <catch2/catch.hpp>
#include <cstring>
#include <ifaddrs.h>
#include <netinet/in.h>
#include <optional>
#include <poll.h>
#include <sys/socket.h>
#include <unistd.h>

#include "runtime/control/osc_packet.hpp"
#include "tests/support/heard.hpp"

using namespace tallow;
using namespace tallow::runtime;

namespace {

struct StillClock : Clock {
    std::uint64_t ns = 5000000000;
    std::uint64_t now() override { return ns; }
    void wait(std::uint64_t) override {}
};

struct Listening {
    explicit Listening(OscOptions options = {}) {
        auto opened = open_osc(options, clock);
        INFO(opened.why());
        REQUIRE(opened.ok());
        osc = std::move(*opened);
        const std::string name = osc->name();
        port = static_cast<std::uint16_t>(std::stoi(name.substr(name.rfind(':') + 1)));
    }
    bool ready(int ms) const {
        pollfd p{osc->descriptor(), POLLIN, 0};
        return ::poll(&p, 1, ms) == 1;
    }
    // Sends from this machine to an address, and reads.
    void send(const Bytes& packet, in_addr to = {htonl(INADDR_LOOPBACK)}) {
        const int fd = ::socket(AF_INET, SOCK_DGRAM, 0);
        sockaddr_in address{};
        address.sin_family = AF_INET;
        address.sin_port = htons(port);
        address.sin_addr = to;
        static_cast<void>(::sendto(fd, packet.data(), packet.size(), 0, reinterpret_cast<sockaddr*>(&address),
                                   sizeof address));
        ::close(fd);
    }
    void obey(const Bytes& packet) {
        send(packet);
        REQUIRE(ready(1000));
        osc->read(heard);
    }
    void obey_message(const OscMessage& message) { obey(*osc_bytes(message)); }

    StillClock clock;
    std::unique_ptr<Trigger> osc;
    std::uint16_t port = 0;
    test::Heard heard;
};

// An address of this machine that is not loopback.
std::optional<in_addr> other_address() {
    ifaddrs* all = nullptr;
    if (::getifaddrs(&all) != 0) return {};
    std::optional<in_addr> found;
    for (const ifaddrs* i = all; i; i = i->ifa_next) {
        if (!i->ifa_addr || i->ifa_addr->sa_family != AF_INET) continue;
        sockaddr_in address{};
        std::memcpy(&address, i->ifa_addr, sizeof address);
        if (ntohl(address.sin_addr.s_addr) >> 24 != 127) found = address.sin_addr;
    }
    ::freeifaddrs(all);
    return found;
}

}  // namespace

TEST_CASE("a place to listen for OSC is a port, or an address and a port", "[unit][osc]") {
    const auto is = [](std::string_view text, const char* host, std::uint16_t port) {
        const auto read = parse_osc_address(text);
        INFO(text << ": " << read.why());
        REQUIRE(read.ok());
        CHECK(*read == OscAddress{host, port});
    };
    is("7700", "127.0.0.1", 7700);
    is("0.0.0.0:7700", "0.0.0.0", 7700);
    is("[::]:7700", "::", 7700);
    is("[::1]:65535", "::1", 65535);
    for (const char* text :
         {"", "0", "65536", "-1", "7700x", ":7700", "host:7700", "::1:7700", "[127.0.0.1]:7700", "127.0.0.1",
          "127.0.0.1:", "[::1]", "300.0.0.1:7700", "[::1:7700"}) {
        INFO(text);
        CHECK_FALSE(parse_osc_address(text).ok());
    }
}

TEST_CASE("OSC that comes in is told in words", "[unit][osc]") {
    Listening to;
    CHECK(to.osc->name() == "OSC on 127.0.0.1:" + std::to_string(to.port));
    to.obey_message({"/tallow/cue", {osc_integer(5)}});
    CHECK(to.heard.all == std::vector<std::string>{"cue 5"});
    CHECK(to.heard.last_ns == to.clock.ns);
    CHECK(to.heard.last_from.starts_with("OSC 127.0.0.1:"));
    to.obey_message({"/tallow/fly", {}});
    to.obey(Bytes{1, 2, 3});
    CHECK(to.heard.all.size() == 1);
    CHECK(to.heard.complaints.size() == 2);
}

TEST_CASE("OSC over IPv6 is heard", "[unit][osc]") {
    StillClock clock;
    const auto opened = open_osc({{"::1", 0}, ""}, clock);
    if (!opened.ok()) {
        WARN("skipped: this machine has no IPv6");
        return;
    }
    const int fd = ::socket(AF_INET6, SOCK_DGRAM, 0);
    sockaddr_in6 to{};
    socklen_t size = sizeof to;
    REQUIRE(::getsockname((*opened)->descriptor(), reinterpret_cast<sockaddr*>(&to), &size) == 0);
    const Bytes packet = *osc_bytes({"/tallow/go", {}});
    REQUIRE(::sendto(fd, packet.data(), packet.size(), 0, reinterpret_cast<sockaddr*>(&to), size) > 0);
    ::close(fd);
    pollfd p{(*opened)->descriptor(), POLLIN, 0};
    REQUIRE(::poll(&p, 1, 1000) == 1);
    test::Heard heard;
    (*opened)->read(heard);
    CHECK(heard.all == std::vector<std::string>{"go"});
    CHECK(heard.last_from.starts_with("OSC [::1]:"));
}

TEST_CASE("what is sent to another address of the machine starts nothing unless it was opened",
          "[unit][osc][security]") {
    const auto other = other_address();
    if (!other) {
        WARN("skipped: this machine has no address but loopback");
        return;
    }
    Listening closed, open({{"0.0.0.0", 0}, ""});
    closed.send(*osc_bytes({"/tallow/go", {}}), *other);
    CHECK_FALSE(closed.ready(100));
    open.send(*osc_bytes({"/tallow/go", {}}), *other);
    REQUIRE(open.ready(1000));
    open.osc->read(open.heard);
    CHECK(open.heard.all == std::vector<std::string>{"go"});
}

TEST_CASE("with a secret nothing is obeyed without it", "[unit][osc][security]") {
    Listening to({{}, "rosebud"});
    to.obey_message({"/tallow/go", {osc_text("rosebud")}});
    to.obey_message({"/tallow/go", {osc_text("rosebud"), osc_text("side")}});
    to.obey_message({"/tallow/go", {osc_text("side"), osc_text("rosebud")}});
    CHECK(to.heard.all == std::vector<std::string>{"go", "go side", "go side"});
    to.obey_message({"/tallow/go", {}});
    to.obey_message({"/tallow/go", {osc_text("Rosebud")}});
    to.obey_message({"/tallow/go", {osc_integer(1)}});
    CHECK(to.heard.all.size() == 3);
    REQUIRE(to.heard.complaints.size() == 3);
    CHECK(to.heard.complaints[0] ==
          "an OSC message without the secret of `--osc-secret` is not obeyed; its sender must give the same "
          "one");
}

TEST_CASE("one message of a bundle without the secret stops the bundle", "[unit][osc][security]") {
    Listening to({{}, "rosebud"});
    const std::string_view head("#bundle\0\0\0\0\0\0\0\0\1", 16);
    Bytes packet(head.begin(), head.end());
    for (const OscMessage& m :
         {OscMessage{"/tallow/go", {osc_text("rosebud")}}, OscMessage{"/tallow/go", {}}}) {
        const Bytes b = *osc_bytes(m);
        packet.resize(packet.size() + 4);
        put_big(&packet[packet.size() - 4], static_cast<std::uint32_t>(b.size()));
        packet.insert(packet.end(), b.begin(), b.end());
    }
    to.obey(packet);
    CHECK(to.heard.all.empty());
    CHECK(to.heard.complaints.size() == 1);
}

TEST_CASE("secrets are the same only when all of them is", "[unit][osc][security]") {
    CHECK(same_secret("rosebud", "rosebud"));
    for (const char* given : {"", "r", "rosebue", "xosebud", "rosebudrosebud", "rosebudr"})
        CHECK_FALSE(same_secret(given, "rosebud"));
    CHECK_FALSE(same_secret(std::string_view("\0", 1), ""));
}

TEST_CASE("a flood of bad packets gives few complaints, and says how many it left out",
          "[unit][osc][security]") {
    Listening to;
    for (int i = 0; i < 100; ++i) to.send({1, 2, 3});
    to.osc->read(to.heard);
    CHECK(to.heard.complaints.size() == 5);
    to.clock.ns += 1000000000;
    to.obey_message({"/tallow/fly", {}});
    REQUIRE(to.heard.complaints.size() == 6);
    CHECK(to.heard.complaints[5].ends_with(" (95 more before this were left out)"));
    to.obey_message({"/tallow/go", {}});
    CHECK(to.heard.all == std::vector<std::string>{"go"});
}

TEST_CASE("where OSC cannot listen, it says why", "[unit][osc]") {
    Listening first;
    const auto second = open_osc({{"127.0.0.1", first.port}, ""}, first.clock);
    REQUIRE_FALSE(second.ok());
    CHECK(second.why().find("another program listens there") != std::string::npos);
    const auto foreign = open_osc({{"192.0.2.1", 0}, ""}, first.clock);
    REQUIRE_FALSE(foreign.ok());
    CHECK(foreign.why().find("give an address of this machine") != std::string::npos);
}
