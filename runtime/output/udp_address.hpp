// Hosts and interfaces as people name them, to what the system takes.
#pragma once

#include <netinet/in.h>
#include <string>
#include <sys/socket.h>

#include "runtime/output/carrier.hpp"

namespace tallow::runtime {

// An address of either version.
union SocketAddress {
    sockaddr any;
    sockaddr_in v4;
    sockaddr_in6 v6;
};

inline socklen_t size_of(const SocketAddress& address) {
    return address.any.sa_family == AF_INET6 ? sizeof(sockaddr_in6) : sizeof(sockaddr_in);
}

// A multicast group of E1.31, and the same turned to a universe.
SocketAddress group_address(IpVersion version, std::uint16_t port);
void turn_to(SocketAddress& group, std::uint16_t universe);

// "239.255.0.1", "fe80::1".
std::string readable(const SocketAddress& address);

// Where a host is. May wait for a name server.
Result<SocketAddress> find_host(const Host& host, IpVersions versions);

// An interface by its name or by an address of either version.
struct Interface {
    unsigned index = 0;
    in_addr address{};  // the IPv4 address that it was named by, or 0
};
Result<Interface> find_interface(const std::string& name);

}  // namespace tallow::runtime
