// Packets over UDP.
#include <cerrno>
#include <cstring>
#include <fmt/format.h>
#include <memory>
#include <netinet/in.h>
#include <poll.h>
#include <sys/socket.h>
#include <unistd.h>
#include <vector>

#include "runtime/output/batch.hpp"
#include "runtime/output/carrier.hpp"
#include "runtime/output/udp_address.hpp"

namespace tallow::runtime {
namespace {

class UdpSocket : public PacketPort {
  public:
    UdpSocket() = default;
    ~UdpSocket() override {
        if (fd_ >= 0) ::close(fd_);
    }
    UdpSocket(const UdpSocket&) = delete;
    UdpSocket& operator=(const UdpSocket&) = delete;

    Status open(int family) {
        fd_ = ::socket(family, SOCK_DGRAM | SOCK_CLOEXEC | SOCK_NONBLOCK, 0);
        if (fd_ >= 0) return {};
        return Status::failure(fmt::format(
            "cannot open a network socket: {}; check the limits on open files and on networks, and that the "
            "system has IPv{}",
            std::strerror(errno), family == AF_INET6 ? 6 : 4));
    }
    template <class T>
    bool set(int level, int option, const T& value) {
        return ::setsockopt(fd_, level, option, &value, sizeof value) == 0;
    }

    int send(std::span<mmsghdr> messages) override {
        return ::sendmmsg(fd_, messages.data(), static_cast<unsigned>(messages.size()), 0);
    }
    // A millisecond where only the interface is full: the socket is writable then, and poll would not wait.
    bool wait_for_room() override {
        if (waits_++ == most_waits) return false;
        pollfd p{fd_, POLLOUT, 0};
        if (::poll(&p, 1, 1) > 0) ::poll(nullptr, 0, 1);
        return true;
    }
    void begin() override { waits_ = 0; }

  private:
    static constexpr unsigned most_waits = 100;  // about a tenth of a second
    int fd_ = -1;
    unsigned waits_ = 0;
};

// One message for each packet; what they point to is joined up once for all.
class UdpCarrier : public Carrier {
  public:
    // Multicast when `group` is set: only its universe changes from packet to packet.
    UdpCarrier(std::unique_ptr<UdpSocket> socket, const SocketAddress& to, bool group)
        : socket_(std::move(socket)), to_(to), group_(group) {}
    Status send(std::span<const Datagram> packets, std::uint64_t) override;
    Status finish() override { return {}; }

  private:
    void make_room(std::size_t messages);

    std::unique_ptr<UdpSocket> socket_;
    SocketAddress to_;
    bool group_;
    std::vector<mmsghdr> messages_;
    std::vector<iovec> pieces_;
    std::vector<SocketAddress> addresses_;
};

void UdpCarrier::make_room(std::size_t messages) {
    if (messages <= messages_.size()) return;
    messages_.assign(messages, {});
    pieces_.assign(messages, {});
    addresses_.assign(messages, to_);
    for (std::size_t i = 0; i < messages; ++i) {
        messages_[i].msg_hdr.msg_iov = &pieces_[i];
        messages_[i].msg_hdr.msg_iovlen = 1;
        messages_[i].msg_hdr.msg_name = &addresses_[i];
        messages_[i].msg_hdr.msg_namelen = size_of(to_);
    }
}

Status UdpCarrier::send(std::span<const Datagram> packets, std::uint64_t) {
    make_room(packets.size());
    for (std::size_t i = 0; i < packets.size(); ++i) {
        // sendmmsg only reads what a piece points to.
        pieces_[i] = {const_cast<std::uint8_t*>(packets[i].bytes.data()), packets[i].bytes.size()};
        if (group_) turn_to(addresses_[i], packets[i].universe);
    }
    const Unsent unsent = send_batch(*socket_, std::span(messages_).first(packets.size()));
    if (unsent.count == 0) return {};
    const std::size_t more = unsent.count - 1;
    const std::string others =
        more == 0 ? "" : fmt::format(" and {} other packet{}", more, more == 1 ? "" : "s");
    return Status::failure(
        fmt::format("cannot send universe {} to {}{}: {}; check the address, the interface and the network",
                    packets[unsent.first].universe, readable(addresses_[unsent.first]), others,
                    std::strerror(unsent.error)));
}

Status set_up_multicast(UdpSocket& socket, bool v4, int hops) {
    const int heard_here = 1;
    if (v4 ? socket.set(IPPROTO_IP, IP_MULTICAST_TTL, hops) &&
                 socket.set(IPPROTO_IP, IP_MULTICAST_LOOP, heard_here)
           : socket.set(IPPROTO_IPV6, IPV6_MULTICAST_HOPS, hops) &&
                 socket.set(IPPROTO_IPV6, IPV6_MULTICAST_LOOP, heard_here))
        return {};
    return Status::failure(fmt::format("cannot set a socket up for multicast over {} hops: {}; give 1..255",
                                       hops, std::strerror(errno)));
}

Status choose_interface(UdpSocket& socket, bool v4, const std::string& name) {
    const auto found = find_interface(name);
    if (!found.ok()) return found.status();
    const int index = static_cast<int>(found->index);
    const ip_mreqn request{{}, found->address, index};
    if (v4 ? socket.set(IPPROTO_IP, IP_MULTICAST_IF, request)
           : socket.set(IPPROTO_IPV6, IPV6_MULTICAST_IF, index))
        return {};
    return Status::failure(
        fmt::format("cannot send through interface `{}`: {}; check that it is up and takes part in IPv{}",
                    name, std::strerror(errno), v4 ? 4 : 6));
}

}  // namespace

Result<std::unique_ptr<Carrier>> unicast_carrier(const Host& host, IpVersions versions) {
    const auto to = find_host(host, versions);
    if (!to.ok()) return to.status();
    auto socket = std::make_unique<UdpSocket>();
    if (auto s = socket->open(to->any.sa_family); !s.ok()) return s;
    return std::unique_ptr<Carrier>(std::make_unique<UdpCarrier>(std::move(socket), *to, false));
}

Result<std::unique_ptr<Carrier>> multicast_carrier(const MulticastOptions& options) {
    const bool v4 = options.version == IpVersion::v4;
    const SocketAddress to = group_address(options.version, options.port);
    auto socket = std::make_unique<UdpSocket>();
    if (auto s = socket->open(to.any.sa_family); !s.ok()) return s;
    if (auto s = set_up_multicast(*socket, v4, options.hops); !s.ok()) return s;
    if (!options.interface.empty())
        if (auto s = choose_interface(*socket, v4, options.interface); !s.ok()) return s;
    return std::unique_ptr<Carrier>(std::make_unique<UdpCarrier>(std::move(socket), to, true));
}

}  // namespace tallow::runtime
