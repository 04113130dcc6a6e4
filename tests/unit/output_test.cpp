#include "runtime/output/output.hpp"

#include <arpa/inet.h>
#include <catch2/catch.hpp>
#include <netinet/in.h>
#include <sys/socket.h>
#include <unistd.h>

#include "runtime/bytes.hpp"
#include "runtime/files.hpp"
#include "tests/support/made_frames.hpp"

using namespace tallow;
using namespace tallow::runtime;

namespace {

struct Packet {
    std::uint16_t universe;
    std::uint64_t number;
    Bytes bytes;
};

class NotingCarrier : public Carrier {
  public:
    explicit NotingCarrier(std::vector<Packet>& packets) : packets_(packets) {}
    Status send(std::span<const Datagram> packets, std::uint64_t number) override {
        for (const Datagram& d : packets)
            packets_.push_back({d.universe, number, {d.bytes.begin(), d.bytes.end()}});
        return {};
    }
    Status finish() override { return {}; }

  private:
    std::vector<Packet>& packets_;
};

// A socket on loopback and its port.
struct Receiver {
    int fd = ::socket(AF_INET, SOCK_DGRAM, 0);
    std::uint16_t port = 0;
    explicit Receiver(std::uint32_t address = INADDR_LOOPBACK, std::uint16_t wanted_port = 0) {
        sockaddr_in a{};
        a.sin_family = AF_INET;
        a.sin_addr.s_addr = htonl(address);
        a.sin_port = htons(wanted_port);
        socklen_t size = sizeof a;
        REQUIRE(::bind(fd, reinterpret_cast<const sockaddr*>(&a), size) == 0);
        REQUIRE(::getsockname(fd, reinterpret_cast<sockaddr*>(&a), &size) == 0);
        port = ntohs(a.sin_port);
    }
    ~Receiver() { ::close(fd); }
    Bytes next() {
        Bytes b(2000);
        const ssize_t n = ::recv(fd, b.data(), b.size(), MSG_DONTWAIT);
        b.resize(n < 0 ? 0 : static_cast<std::size_t>(n));
        return b;
    }
};

}  // namespace

TEST_CASE("each universe is sent when it changes or is due", "[unit][output]") {
    std::vector<Packet> packets;
    const std::vector<Universe> universes{{3, 2}, {9, 1}};
    const auto output = e131_output({}, universes, 10, std::make_unique<NotingCarrier>(packets));
    std::uint8_t a[2]{0, 0}, b[1]{0};
    const std::span<const std::uint8_t> slots[2]{a, b};
    for (std::uint64_t n = 0; n < 20; ++n) {
        if (n == 10) b[0] = 200;
        REQUIRE(output->frame({n, slots}).ok());
    }
    REQUIRE(output->end(20).ok());
    std::vector<std::uint64_t> third, ninth;
    for (const Packet& p : packets) (p.universe == 3 ? third : ninth).push_back(p.number);
    CHECK(third == std::vector<std::uint64_t>{0, 1, 2, 3, 11, 19, 20});  // 800 ms are 8 frames
    CHECK(ninth == std::vector<std::uint64_t>{0, 1, 2, 3, 10, 11, 12, 13, 20});
    CHECK(packets.back().bytes[112] == 0x40);
    CHECK(packets.back().bytes[126] == 200);
}

TEST_CASE("a capture is a pcap file of whole packets", "[unit][output]") {
    const std::string path = test::scratch("output.pcap");
    Bytes payload(638, 0x5a);
    {
        auto carrier = capture_carrier(path, 40);
        REQUIRE(carrier.ok());
        const Datagram d{0x1234, payload};
        REQUIRE((*carrier)->send(std::span(&d, 1), 121).ok());
        REQUIRE((*carrier)->finish().ok());
    }
    const auto text = read_file(path, 10000);
    REQUIRE(text.ok());
    const auto b = as_bytes(*text);
    REQUIRE(b.size() == 24 + 16 + 20 + 8 + 638);
    CHECK(get_little<std::uint32_t>(&b[0]) == 0xa1b2c3d4);
    CHECK(get_little<std::uint32_t>(&b[20]) == 101);
    CHECK(get_little<std::uint32_t>(&b[24]) == 3);  // frame 121 at 40 Hz: 3.025 s
    CHECK(get_little<std::uint32_t>(&b[28]) == 25000);
    CHECK(get_big<std::uint32_t>(&b[40 + 16]) == 0xefff1234);
    CHECK(get_big<std::uint16_t>(&b[40 + 20 + 2]) == 5568);
    // Ones' complement sums over header and pseudo header come out as all ones (RFC 1071).
    std::uint32_t ip = 0, udp = 17 + 8 + 638;
    for (std::size_t i = 0; i < 20; i += 2) ip += get_big<std::uint16_t>(&b[40 + i]);
    for (std::size_t i = 12; i < 20 + 8 + 638; i += 2) udp += get_big<std::uint16_t>(&b[40 + i]);
    for (std::uint32_t* sum : {&ip, &udp}) {
        while (*sum >> 16) *sum = (*sum & 0xffff) + (*sum >> 16);
        CHECK(*sum == 0xffff);
    }
}

TEST_CASE("a capture that is not finished leaves nothing", "[unit][output]") {
    const std::string path = test::scratch("unfinished.pcap");
    ::unlink(path.c_str());
    REQUIRE(capture_carrier(path, 40).ok());
    CHECK(::access(path.c_str(), F_OK) != 0);
}

TEST_CASE("packets go to every host", "[unit][output]") {
    Receiver first, second(INADDR_LOOPBACK + 1, first.port);
    auto carrier = udp_carrier({.hosts = {"127.0.0.1", "127.0.0.2"}, .interface = "", .port = first.port});
    REQUIRE(carrier.ok());
    const Bytes one(638, 1), two(638, 2);
    const Datagram packets[]{{1, one}, {2, two}};
    REQUIRE((*carrier)->send(packets, 0).ok());
    for (Receiver* receiver : {&first, &second}) {
        CHECK(receiver->next() == one);
        CHECK(receiver->next() == two);
        CHECK(receiver->next().empty());
    }
}

TEST_CASE("an output that cannot be opened says what was tried", "[unit][output]") {
    const auto host = udp_carrier({.hosts = {"no.such.host.invalid"}, .interface = ""});
    REQUIRE_FALSE(host.ok());
    CHECK(host.why().find("cannot find host `no.such.host.invalid`: ") == 0);
    const auto interface = udp_carrier({.hosts = {}, .interface = "nowhere0"});
    REQUIRE_FALSE(interface.ok());
    CHECK(interface.why().find("cannot send through interface `nowhere0`: No such device") == 0);
    const auto file = capture_carrier("/no/such/folder/x.pcap", 40);
    REQUIRE_FALSE(file.ok());
    CHECK(file.why().find("/no/such/folder/x.pcap`: No such file or directory") != std::string::npos);
}

TEST_CASE("a packet that cannot be sent says where to", "[unit][output]") {
    auto carrier =
        udp_carrier({.hosts = {"255.255.255.255"}, .interface = ""});  // broadcast was not asked for
    REQUIRE(carrier.ok());
    const Bytes one(638, 1);
    const Datagram packet{7, one};
    const Status s = (*carrier)->send(std::span(&packet, 1), 0);
    REQUIRE_FALSE(s.ok());
    CHECK(s.why().find("cannot send universe 7 to 255.255.255.255: ") == 0);
}
