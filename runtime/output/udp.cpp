// Packets over UDP, as many to a call of the system as it takes.
#include <algorithm>
#include <arpa/inet.h>
#include <cerrno>
#include <cstring>
#include <fmt/format.h>
#include <net/if.h>
#include <netdb.h>
#include <netinet/in.h>
#include <sys/socket.h>
#include <unistd.h>

#include "runtime/output/output.hpp"

namespace tallow::runtime {
namespace {

std::string readable(const sockaddr_in& address) {
    char text[INET_ADDRSTRLEN] = "";
    ::inet_ntop(AF_INET, &address.sin_addr, text, sizeof text);
    return text;
}

class UdpCarrier : public Carrier {
  public:
    UdpCarrier(int fd, std::vector<sockaddr_in> hosts, std::uint16_t port)
        : fd_(fd), hosts_(std::move(hosts)), port_(port) {}
    ~UdpCarrier() override { ::close(fd_); }
    UdpCarrier(const UdpCarrier&) = delete;
    UdpCarrier& operator=(const UdpCarrier&) = delete;

    Status send(std::span<const Datagram> packets, std::uint64_t number) override;
    Status finish() override { return {}; }

  private:
    void make_room(std::size_t messages);

    int fd_;
    std::vector<sockaddr_in> hosts_;  // none: multicast
    std::uint16_t port_;
    std::vector<mmsghdr> messages_;
    std::vector<iovec> pieces_;
    std::vector<sockaddr_in> addresses_;
};

// Joins messages, pieces and addresses up, once for all.
void UdpCarrier::make_room(std::size_t messages) {
    if (messages <= messages_.size()) return;
    messages_.assign(messages, {});
    pieces_.assign(messages, {});
    addresses_.assign(messages, {});
    for (std::size_t i = 0; i < messages; ++i) {
        messages_[i].msg_hdr.msg_iov = &pieces_[i];
        messages_[i].msg_hdr.msg_iovlen = 1;
        messages_[i].msg_hdr.msg_name = &addresses_[i];
        messages_[i].msg_hdr.msg_namelen = sizeof(sockaddr_in);
        addresses_[i].sin_family = AF_INET;
        addresses_[i].sin_port = htons(port_);
    }
}

Status UdpCarrier::send(std::span<const Datagram> packets, std::uint64_t) {
    const std::size_t copies = std::max<std::size_t>(hosts_.size(), 1), count = packets.size() * copies;
    make_room(count);
    for (std::size_t i = 0; i < count; ++i) {
        const Datagram& d = packets[i / copies];
        // sendmmsg only reads what a piece points to.
        pieces_[i] = {const_cast<std::uint8_t*>(d.bytes.data()), d.bytes.size()};
        addresses_[i].sin_addr.s_addr =
            hosts_.empty() ? htonl(e131_multicast(d.universe)) : hosts_[i % copies].sin_addr.s_addr;
    }
    for (std::size_t sent = 0; sent < count;) {
        const int n = ::sendmmsg(fd_, &messages_[sent], static_cast<unsigned>(count - sent), 0);
        if (n < 0 && errno == EINTR) continue;
        if (n < 0)
            return Status::failure(fmt::format(
                "cannot send universe {} to {}: {}; check the address and the network",
                packets[sent / copies].universe, readable(addresses_[sent]), std::strerror(errno)));
        sent += static_cast<std::size_t>(n);
    }
    return {};
}

Result<sockaddr_in> find_host(const std::string& host) {
    addrinfo wanted{};
    wanted.ai_family = AF_INET;
    wanted.ai_socktype = SOCK_DGRAM;
    addrinfo* found = nullptr;
    const int error = ::getaddrinfo(host.c_str(), nullptr, &wanted, &found);
    if (error != 0)
        return Status::failure(
            fmt::format("cannot find host `{}`: {}; check its name, or give its address", host,
                        error == EAI_SYSTEM ? std::strerror(errno) : ::gai_strerror(error)));
    sockaddr_in address;
    std::memcpy(&address, found->ai_addr, sizeof address);
    ::freeaddrinfo(found);
    return address;
}

Status choose_interface(int fd, const std::string& interface) {
    if (interface.empty()) return {};
    ip_mreqn request{};
    if (::inet_pton(AF_INET, interface.c_str(), &request.imr_address) != 1)
        request.imr_ifindex = static_cast<int>(::if_nametoindex(interface.c_str()));
    const bool known = request.imr_address.s_addr != 0 || request.imr_ifindex != 0;
    if (known && ::setsockopt(fd, IPPROTO_IP, IP_MULTICAST_IF, &request, sizeof request) == 0) return {};
    return Status::failure(fmt::format(
        "cannot send through interface `{}`: {}; give its name or its address as `ip address` shows them",
        interface, std::strerror(errno)));
}

}  // namespace

Result<std::unique_ptr<Carrier>> udp_carrier(const UdpOptions& options) {
    std::vector<sockaddr_in> hosts;
    for (const std::string& host : options.hosts) {
        auto address = find_host(host);
        if (!address.ok()) return address.status();
        hosts.push_back(*address);
    }
    const int fd = ::socket(AF_INET, SOCK_DGRAM | SOCK_CLOEXEC, 0);
    if (fd < 0)
        return Status::failure(
            fmt::format("cannot open a network socket: {}; check the limits on open files and on networks",
                        std::strerror(errno)));
    auto carrier = std::make_unique<UdpCarrier>(fd, std::move(hosts), options.port);
    if (auto s = choose_interface(fd, options.interface); !s.ok()) return s;
    return std::unique_ptr<Carrier>(std::move(carrier));
}

}  // namespace tallow::runtime
