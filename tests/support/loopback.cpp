#include "tests/support/loopback.hpp"

#include <arpa/inet.h>
#include <catch2/catch.hpp>
#include <cstring>
#include <net/if.h>
#include <poll.h>
#include <sys/socket.h>
#include <unistd.h>

#include "runtime/output/udp_address.hpp"

namespace tallow::test {

using namespace runtime;

Receiver::Receiver(const std::string& address, std::uint16_t port)
    : v4_(address.find(':') == std::string::npos) {
    const auto found = find_host({address, port}, {});
    REQUIRE(found.ok());
    SocketAddress bound = *found;
    fd_ = ::socket(bound.any.sa_family, SOCK_DGRAM | SOCK_CLOEXEC, 0);
    socklen_t size = size_of(bound);
    REQUIRE(::bind(fd_, &bound.any, size) == 0);
    REQUIRE(::getsockname(fd_, &bound.any, &size) == 0);
    port_ = ntohs(v4_ ? bound.v4.sin_port : bound.v6.sin6_port);
    const int roomy = 4 << 20;
    ::setsockopt(fd_, SOL_SOCKET, SO_RCVBUF, &roomy, sizeof roomy);
}

Receiver::~Receiver() {
    ::close(fd_);
}

bool Receiver::join(std::uint16_t universe, const std::string& interface) {
    const unsigned index = ::if_nametoindex(interface.c_str());
    if (v4_) {
        ip_mreqn group{};
        group.imr_multiaddr.s_addr = htonl(e131_multicast(universe));
        group.imr_ifindex = static_cast<int>(index);
        return ::setsockopt(fd_, IPPROTO_IP, IP_ADD_MEMBERSHIP, &group, sizeof group) == 0;
    }
    ipv6_mreq group{};
    const Ipv6Bytes bytes = e131_multicast_v6(universe);
    std::memcpy(&group.ipv6mr_multiaddr, bytes.data(), bytes.size());
    group.ipv6mr_interface = index;
    return ::setsockopt(fd_, IPPROTO_IPV6, IPV6_JOIN_GROUP, &group, sizeof group) == 0;
}

Bytes Receiver::next() {
    pollfd p{fd_, POLLIN, 0};
    if (::poll(&p, 1, 50) <= 0) return {};
    Bytes b(2000);
    const ssize_t n = ::recv(fd_, b.data(), b.size(), MSG_DONTWAIT);
    b.resize(n < 0 ? 0 : static_cast<std::size_t>(n));
    return b;
}

}  // namespace tallow::test
