#include "runtime/output/udp_address.hpp"

#include <arpa/inet.h>
#include <cerrno>
#include <cstring>
#include <fmt/format.h>
#include <ifaddrs.h>
#include <memory>
#include <net/if.h>
#include <netdb.h>

namespace tallow::runtime {
namespace {

void set_port(SocketAddress& address, std::uint16_t port) {
    (address.any.sa_family == AF_INET6 ? address.v6.sin6_port : address.v4.sin_port) = htons(port);
}

int look_up(const std::string& name, int family, int flags, addrinfo*& found) {
    addrinfo wanted{};
    wanted.ai_family = family;
    wanted.ai_flags = flags;
    wanted.ai_socktype = SOCK_DGRAM;
    return ::getaddrinfo(name.c_str(), nullptr, &wanted, &found);
}

int family_of(IpVersions versions) {
    if (versions.v4 && versions.v6) return AF_UNSPEC;
    return versions.v6 ? AF_INET6 : AF_INET;
}

bool same_address(const sockaddr* a, const SocketAddress& b) {
    if (a == nullptr || a->sa_family != b.any.sa_family) return false;
    SocketAddress copy{};
    std::memcpy(&copy, a, size_of(b));
    if (b.any.sa_family == AF_INET) return copy.v4.sin_addr.s_addr == b.v4.sin_addr.s_addr;
    return std::memcmp(&copy.v6.sin6_addr, &b.v6.sin6_addr, sizeof(in6_addr)) == 0;
}

// The index of the interface that has the address; 0, and errno, when none has.
unsigned index_by_address(const SocketAddress& address) {
    ifaddrs* all = nullptr;
    if (::getifaddrs(&all) != 0) return 0;
    const std::unique_ptr<ifaddrs, decltype(&::freeifaddrs)> owner(all, ::freeifaddrs);
    for (const ifaddrs* i = all; i != nullptr; i = i->ifa_next)
        if (same_address(i->ifa_addr, address)) return ::if_nametoindex(i->ifa_name);
    errno = EADDRNOTAVAIL;
    return 0;
}

}  // namespace

SocketAddress group_address(IpVersion version, std::uint16_t port) {
    SocketAddress a{};
    a.any.sa_family = version == IpVersion::v4 ? AF_INET : AF_INET6;
    set_port(a, port);
    turn_to(a, 1);
    return a;
}

void turn_to(SocketAddress& group, std::uint16_t universe) {
    if (group.any.sa_family == AF_INET) {
        group.v4.sin_addr.s_addr = htonl(e131_multicast(universe));
        return;
    }
    const Ipv6Bytes bytes = e131_multicast_v6(universe);
    std::memcpy(&group.v6.sin6_addr, bytes.data(), bytes.size());
}

std::string readable(const SocketAddress& address) {
    char text[INET6_ADDRSTRLEN] = "";
    const bool v6 = address.any.sa_family == AF_INET6;
    const void* bytes = v6 ? static_cast<const void*>(&address.v6.sin6_addr) : &address.v4.sin_addr;
    ::inet_ntop(address.any.sa_family, bytes, text, sizeof text);
    return text;
}

Result<SocketAddress> find_host(const Host& host, IpVersions versions) {
    addrinfo* found = nullptr;
    int error = look_up(host.name, AF_UNSPEC, AI_NUMERICHOST, found);
    if (error != 0) error = look_up(host.name, family_of(versions), 0, found);
    if (error != 0)
        return Status::failure(
            fmt::format("cannot find host `{}`: {}; check its name, or give its address", host.name,
                        error == EAI_SYSTEM ? std::strerror(errno) : ::gai_strerror(error)));
    SocketAddress address{};
    std::memcpy(&address, found->ai_addr, found->ai_addrlen);
    ::freeaddrinfo(found);
    set_port(address, host.port);
    return address;
}

Result<Interface> find_interface(const std::string& name) {
    Interface found;
    SocketAddress address{};
    if (::inet_pton(AF_INET, name.c_str(), &address.v4.sin_addr) == 1) {
        address.v4.sin_family = AF_INET;
        found.address = address.v4.sin_addr;
        found.index = index_by_address(address);
    } else if (::inet_pton(AF_INET6, name.c_str(), &address.v6.sin6_addr) == 1) {
        address.v6.sin6_family = AF_INET6;
        found.index = index_by_address(address);
    } else {
        found.index = ::if_nametoindex(name.c_str());
    }
    if (found.index != 0) return found;
    return Status::failure(fmt::format(
        "cannot send through interface `{}`: {}; give its name or an address of it, as `ip address` shows "
        "them",
        name, std::strerror(errno)));
}

}  // namespace tallow::runtime
