#include "runtime/control/osc_socket.hpp"

#include <arpa/inet.h>
#include <cerrno>
#include <charconv>
#include <cstring>
#include <fmt/format.h>
#include <sys/socket.h>
#include <unistd.h>

namespace tallow::runtime {
namespace {

std::optional<SocketAddress> socket_address(const OscAddress& address) {
    SocketAddress a{};
    if (::inet_pton(AF_INET, address.host.c_str(), &a.v4.sin_addr) == 1) {
        a.v4.sin_family = AF_INET;
        a.v4.sin_port = htons(address.port);
        return a;
    }
    a.v6 = {};
    if (::inet_pton(AF_INET6, address.host.c_str(), &a.v6.sin6_addr) != 1) return {};
    a.v6.sin6_family = AF_INET6;
    a.v6.sin6_port = htons(address.port);
    return a;
}

// "192.0.2.7:9000", "[2001:db8::7]:9000".
std::string readable_with_port(const SocketAddress& a) {
    std::array<char, INET6_ADDRSTRLEN> text{};
    if (a.any.sa_family == AF_INET) {
        ::inet_ntop(AF_INET, &a.v4.sin_addr, text.data(), text.size());
        return fmt::format("{}:{}", text.data(), ntohs(a.v4.sin_port));
    }
    ::inet_ntop(AF_INET6, &a.v6.sin6_addr, text.data(), text.size());
    return fmt::format("[{}]:{}", text.data(), ntohs(a.v6.sin6_port));
}

Status cannot_listen(const OscAddress& address, const char* what_to_do) {
    return Status::failure(fmt::format("cannot listen for OSC on {} port {}: {}; {}", address.host,
                                       address.port, std::strerror(errno), what_to_do));
}

}  // namespace

Result<OscAddress> parse_osc_address(std::string_view text) {
    const auto fault = Status::failure(
        fmt::format("`{}` is no place to listen; write a port like `7700` for this machine alone, or an "
                    "address in digits and a port, like `192.0.2.5:7700` or `[::]:7700`",
                    text));
    OscAddress address;
    const std::size_t colon = text.rfind(':');
    if (colon != std::string_view::npos) {
        std::string_view host = text.substr(0, colon);
        const bool v6 = host.starts_with('[') && host.ends_with(']');
        if (v6) host = host.substr(1, host.size() - 2);
        if (v6 != (host.find(':') != std::string_view::npos)) return fault;
        address.host = host;
        text.remove_prefix(colon + 1);
    }
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), address.port);
    if (error != std::errc() || end != text.data() + text.size() || address.port == 0) return fault;
    if (!socket_address(address)) return fault;
    return address;
}

// Liblo's own server listens on every interface; so the socket is ours.
Result<std::unique_ptr<OscSocket>> OscSocket::open(const OscAddress& where, std::string secret) {
    auto address = socket_address(where);
    if (!address) {
        errno = EINVAL;
        return cannot_listen(where, "give the address in digits");
    }
    const int fd = ::socket(address->any.sa_family, SOCK_DGRAM | SOCK_CLOEXEC | SOCK_NONBLOCK, 0);
    if (fd < 0) return cannot_listen(where, "check the limits on open files and on networks");
    const int off = 0;
    if (address->any.sa_family == AF_INET6)
        static_cast<void>(::setsockopt(fd, IPPROTO_IPV6, IPV6_V6ONLY, &off, sizeof off));
    socklen_t size = sizeof *address;
    if (::bind(fd, &address->any, size_of(*address)) != 0 || ::getsockname(fd, &address->any, &size) != 0) {
        const auto failure = cannot_listen(
            where, errno == EADDRINUSE ? "another program listens there; choose another port"
                                       : "give an address of this machine, as `ip address` shows them");
        ::close(fd);
        return failure;
    }
    return std::unique_ptr<OscSocket>(new OscSocket(fd, readable_with_port(*address), std::move(secret)));
}

OscSocket::~OscSocket() {
    ::close(fd_);
}

std::optional<OscSocket::Packet> OscSocket::receive() {
    SocketAddress from{};
    socklen_t size = sizeof from;
    ssize_t got = -1;
    do {
        got = ::recvfrom(fd_, packet_.data(), packet_.size(), MSG_DONTWAIT, &from.any, &size);
    } while (got < 0 && errno == EINTR);
    if (got < 0) return {};  // nothing more; a socket that only listens has no other lasting failure
    auto messages = read_osc({packet_.data(), static_cast<std::size_t>(got)});
    if (messages.ok() && !admits(*messages))
        return Packet{from, readable_with_port(from),
                      Status::failure("an OSC message without the secret of "
                                      "`--osc-secret` is not obeyed; its sender must give the same one")};
    return Packet{from, readable_with_port(from), std::move(messages)};
}

Result<Bytes> OscSocket::bytes(OscMessage message) const {
    if (!secret_.empty()) message.arguments.push_back(osc_text(secret_));
    return osc_bytes(message);
}

bool OscSocket::send(std::span<const std::uint8_t> packet, const SocketAddress& to) const {
    return ::sendto(fd_, packet.data(), packet.size(), MSG_DONTWAIT | MSG_NOSIGNAL, &to.any, size_of(to)) >=
               0 ||
           errno == EAGAIN;
}

// Takes the secret off every message; false when one of them has none.
bool OscSocket::admits(std::vector<OscMessage>& messages) const {
    if (secret_.empty()) return true;
    const auto is_secret = [&](const OscArgument& a) {
        return a.kind == OscArgument::Kind::text && same_secret(a.text, secret_);
    };
    for (OscMessage& m : messages) {
        if (m.arguments.empty()) return false;
        if (is_secret(m.arguments.back()))
            m.arguments.pop_back();
        else if (is_secret(m.arguments.front()))
            m.arguments.erase(m.arguments.begin());
        else
            return false;
    }
    return true;
}

bool same_secret(std::string_view given, std::string_view secret) {
    volatile unsigned char differs = given.size() != secret.size();
    for (std::size_t i = 0; i < secret.size(); ++i) {
        const char other = given.empty() ? '\0' : given[i % given.size()];
        differs = static_cast<unsigned char>(differs | (other ^ secret[i]));
    }
    return differs == 0;
}

}  // namespace tallow::runtime
