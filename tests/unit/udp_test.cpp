// Nothing leaves the machine: loopback takes IPv4 multicast where it is asked to by name; IPv6 multicast goes
// through another interface, without a hop to go.
#include <catch2/catch.hpp>
#include <ifaddrs.h>
#include <map>
#include <net/if.h>
#include <netinet/in.h>
#include <sched.h>
#include <thread>

#include "runtime/output/carrier.hpp"
#include "runtime/output/udp_address.hpp"
#include "tests/support/allocations.hpp"
#include "tests/support/command.hpp"
#include "tests/support/loopback.hpp"

using namespace tallow;
using namespace tallow::runtime;
using test::Receiver;

namespace {

const Bytes one(638, 1), two(638, 2);

bool has_ipv6() {
    const auto carrier = unicast_carrier({"::1"}, {});
    const Datagram packet{1, one};
    const bool has = carrier.ok() && (*carrier)->send(std::span(&packet, 1), 0).ok();
    if (!has) WARN("this machine has no IPv6: it is not tried");
    return has;
}

// An interface that takes part in IPv6 multicast; "" if there is none.
std::string ipv6_interface() {
    ifaddrs* all = nullptr;
    if (::getifaddrs(&all) != 0) return "";
    std::string name;
    for (const ifaddrs* i = all; i != nullptr; i = i->ifa_next) {
        constexpr unsigned wanted = IFF_UP | IFF_RUNNING | IFF_MULTICAST;
        if (i->ifa_addr != nullptr && i->ifa_addr->sa_family == AF_INET6 && (i->ifa_flags & wanted) == wanted)
            name = i->ifa_name;
    }
    ::freeifaddrs(all);
    return name;
}

// What is sent through an interface, named in one way or another, is heard on this machine.
void require_multicast(IpVersion version, const std::string& interface, const std::string& named) {
    Receiver receiver(version == IpVersion::v4 ? "0.0.0.0" : "::");
    if (!receiver.join(301, interface) || !receiver.join(258, interface)) {
        WARN("interface " << interface << " takes no multicast here: it is not tried");
        return;
    }
    auto carrier = multicast_carrier({version, named, 0, receiver.port()});
    INFO(carrier.why());
    REQUIRE(carrier.ok());
    const Datagram packets[]{{301, one}, {302, one}, {258, two}};
    const Status sent = (*carrier)->send(packets, 0);
    INFO(sent.why());
    REQUIRE(sent.ok());
    CHECK(receiver.next() == one);
    CHECK(receiver.next() == two);  // nobody joined 302
    CHECK(receiver.next().empty());
}

}  // namespace

TEST_CASE("packets go to a host", "[unit][output]") {
    Receiver receiver;
    auto carrier = unicast_carrier({"127.0.0.1", receiver.port()}, {});
    REQUIRE(carrier.ok());
    const Datagram packets[]{{1, one}, {2, two}};
    REQUIRE((*carrier)->send(packets, 0).ok());
    CHECK(receiver.next() == one);
    CHECK(receiver.next() == two);
    CHECK(receiver.next().empty());
}

TEST_CASE("packets go to a host by IPv6", "[unit][output]") {
    if (!has_ipv6()) return;
    Receiver receiver("::1");
    auto carrier = unicast_carrier({"::1", receiver.port()}, {.v4 = true, .v6 = false});
    REQUIRE(carrier.ok());  // an address is taken as it stands
    const Datagram packets[]{{1, one}, {2, two}};
    REQUIRE((*carrier)->send(packets, 0).ok());
    CHECK(receiver.next() == one);
    CHECK(receiver.next() == two);
}

TEST_CASE("a name is looked up among the versions of IP that were chosen", "[unit][output]") {
    const auto v4 = find_host({"localhost", 5570}, {.v4 = true, .v6 = false});
    REQUIRE(v4.ok());
    CHECK(v4->any.sa_family == AF_INET);
    CHECK(ntohs(v4->v4.sin_port) == 5570);
    const auto v6 = find_host({"localhost", 5570}, {.v4 = false, .v6 = true});
    CHECK((!v6.ok() || v6->any.sa_family == AF_INET6));  // not every machine names its loopback by IPv6
    CHECK(find_host({"localhost", 5570}, {.v4 = true, .v6 = true}).ok());
}

TEST_CASE("packets go to each universe's multicast group, and are heard on the same machine",
          "[unit][output]") {
    require_multicast(IpVersion::v4, "lo", "lo");
    require_multicast(IpVersion::v4, "lo", "127.0.0.1");
    if (has_ipv6()) require_multicast(IpVersion::v4, "lo", "::1");
}

TEST_CASE("packets go to each universe's multicast group by IPv6", "[unit][output]") {
    const std::string interface = ipv6_interface();
    if (interface.empty()) {
        WARN("no interface of this machine takes part in IPv6 multicast: it is not tried");
        return;
    }
    require_multicast(IpVersion::v6, interface, interface);
}

// In a network of the thread's own, where the system allows one.
TEST_CASE("an interface that goes down or away fails by name, and comes back", "[unit][output]") {
    struct Said {
        bool tried = false;
        std::vector<std::string> whys;
    };
    std::map<IpVersion, Said> said;
    std::thread([&] {
        for (const IpVersion version : {IpVersion::v4, IpVersion::v6}) {
            const auto ip = [](const char* rest) { return test::run(std::string("ip ") + rest).code == 0; };
            const auto add = [&] {
                return ip("link add stage0 type veth peer name stage1") && ip("link set stage1 up") &&
                       ip("address add 192.0.2.9/24 dev stage0") &&
                       ip("address add fd00::9/64 dev stage0 nodad") && ip("link set stage0 up");
            };
            if (::unshare(CLONE_NEWNET) != 0 || !add()) return;
            const auto open = [&] { return multicast_carrier({version, "stage0"}); };
            auto& whys = said[version].whys;
            const auto send = [&](Carrier& carrier) {
                const Datagram packets[]{{301, one}, {302, one}};
                whys.push_back(carrier.send(packets, 0).why());
            };
            auto carrier = open();
            if (!carrier.ok()) return whys.push_back(carrier.why());
            said[version].tried = true;
            send(**carrier);
            ip("link set stage0 down");
            send(**carrier);
            ip("link delete stage0");
            send(**carrier);
            whys.push_back(open().why());
            add();
            carrier = open();
            if (carrier.ok()) send(**carrier);
        }
    }).join();
    for (const auto& [version, group] :
         {std::pair{IpVersion::v4, "239.255.1.45"}, std::pair{IpVersion::v6, "ff18::8300:12d"}}) {
        if (!said[version].tried) {
            WARN("no network of its own can be had here: " << group << " is not tried");
            continue;
        }
        const auto& whys = said[version].whys;
        const std::string fails =
            std::string("cannot send universe 301 to ") + group + " and 1 other packet: ";
        REQUIRE(whys.size() == 5);
        CHECK(whys[0].empty());
        CHECK(whys[1].find(fails) == 0);
        CHECK(whys[2].find(fails) == 0);
        CHECK(whys[3].find("cannot send through interface `stage0`: No such device; ") == 0);
        CHECK(whys[4].empty());
    }
}

TEST_CASE("2000 universes go out at once, and the second time nothing is allocated", "[unit][output]") {
    Receiver receiver;
    auto carrier = unicast_carrier({"127.0.0.1", receiver.port()}, {});
    REQUIRE(carrier.ok());
    std::vector<Bytes> bytes;
    std::vector<Datagram> packets;
    for (std::uint16_t u = 0; u < 2000; ++u)
        bytes.push_back({static_cast<std::uint8_t>(u >> 8), static_cast<std::uint8_t>(u)});
    for (std::uint16_t u = 0; u < 2000; ++u) packets.push_back({static_cast<std::uint16_t>(u + 1), bytes[u]});
    for (int round = 0; round < 2; ++round) {
        const std::size_t before = test::allocations();
        const bool sent = (*carrier)->send(packets, 0).ok();
        const std::size_t allocated = test::allocations() - before;
        REQUIRE(sent);
        if (round == 1) CHECK(allocated == 0);
        // What the receiver's buffer had room for is there in order, from the first one on.
        std::size_t heard = 0;
        for (Bytes b; heard < 2000 && !(b = receiver.next()).empty(); ++heard) REQUIRE(b == bytes[heard]);
        CHECK(heard > 200);
    }
}

TEST_CASE("a network output that cannot be opened says what was tried", "[unit][output]") {
    const auto host = unicast_carrier({"no.such.host.invalid"}, {});
    REQUIRE_FALSE(host.ok());
    CHECK(host.why().find("cannot find host `no.such.host.invalid`: ") == 0);
    const auto multicast = [](IpVersion version, const char* interface) {
        return multicast_carrier({version, interface}).why();
    };
    for (const IpVersion version : {IpVersion::v4, IpVersion::v6}) {
        if (version == IpVersion::v6 && !has_ipv6()) continue;
        CHECK(
            multicast(version, "nowhere0").find("cannot send through interface `nowhere0`: No such device") ==
            0);
        CHECK(
            multicast(version, "192.0.2.77")
                .find("cannot send through interface `192.0.2.77`: Cannot assign requested address; give ") ==
            0);
        CHECK(multicast(version, "2001:db8::77").find("cannot send through interface `2001:db8::77`: ") == 0);
    }
}

TEST_CASE("packets that cannot be sent say where to, and how many there are", "[unit][output]") {
    auto carrier = unicast_carrier({"255.255.255.255"}, {});  // broadcast was not asked for
    REQUIRE(carrier.ok());
    const Datagram packets[]{{7, one}, {8, one}, {9, one}};
    const Status alone = (*carrier)->send(std::span(packets).first(1), 0);
    CHECK(alone.why().find("cannot send universe 7 to 255.255.255.255: ") == 0);
    const Status all = (*carrier)->send(packets, 0);
    CHECK(all.why().find("cannot send universe 7 to 255.255.255.255 and 2 other packets: ") == 0);
}

TEST_CASE("a packet that is refused keeps none of the others from being sent", "[unit][output]") {
    Receiver receiver;
    auto carrier = unicast_carrier({"127.0.0.1", receiver.port()}, {});
    REQUIRE(carrier.ok());
    const Bytes too_long(70000, 3);
    const Datagram packets[]{{1, one}, {2, too_long}, {3, two}};
    const Status sent = (*carrier)->send(packets, 0);
    CHECK(sent.why().find("cannot send universe 2 to 127.0.0.1: Message too long; ") == 0);
    CHECK(receiver.next() == one);
    CHECK(receiver.next() == two);
}
