#include "runtime/control/osc.hpp"

#include <arpa/inet.h>
#include <array>
#include <cerrno>
#include <charconv>
#include <cstring>
#include <fmt/format.h>
#include <netinet/in.h>
#include <optional>
#include <sys/socket.h>
#include <unistd.h>

#include "runtime/control/complaints.hpp"
#include "runtime/control/osc_packet.hpp"
#include "runtime/control/osc_words.hpp"

namespace tallow::runtime {
namespace {

// Liblo's own server listens on every interface; so the socket is ours.
union SocketAddress {
    sockaddr any;
    sockaddr_in v4;
    sockaddr_in6 v6;
};

socklen_t size_of(const SocketAddress& a) {
    return a.any.sa_family == AF_INET ? sizeof a.v4 : sizeof a.v6;
}

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
std::string readable(const SocketAddress& a) {
    std::array<char, INET6_ADDRSTRLEN> text{};
    if (a.any.sa_family == AF_INET) {
        ::inet_ntop(AF_INET, &a.v4.sin_addr, text.data(), text.size());
        return fmt::format("{}:{}", text.data(), ntohs(a.v4.sin_port));
    }
    ::inet_ntop(AF_INET6, &a.v6.sin6_addr, text.data(), text.size());
    return fmt::format("[{}]:{}", text.data(), ntohs(a.v6.sin6_port));
}

class Osc : public Trigger {
  public:
    Osc(int fd, std::string name, std::string secret, Clock& clock)
        : fd_(fd), name_(std::move(name)), secret_(std::move(secret)), clock_(clock) {}
    ~Osc() override { ::close(fd_); }
    Osc(const Osc&) = delete;
    Osc& operator=(const Osc&) = delete;

    std::string name() const override { return name_; }
    int descriptor() const override { return fd_; }
    void read(Listener& listener) override;

  private:
    void obey(std::span<const std::uint8_t> packet, std::string_view from, Listener& listener);
    bool admits(std::vector<OscMessage>& messages) const;

    int fd_;
    std::string name_, secret_;
    Clock& clock_;
    Complaints complaints_;
    std::array<std::uint8_t, osc_packet_bytes + 1> packet_{};  // one more: then it is too long
};

constexpr int packets_at_once = 256;

void Osc::read(Listener& listener) {
    for (int n = 0; n < packets_at_once; ++n) {
        SocketAddress from{};
        socklen_t size = sizeof from;
        const ssize_t got = ::recvfrom(fd_, packet_.data(), packet_.size(), MSG_DONTWAIT, &from.any, &size);
        if (got < 0 && errno == EINTR) continue;
        if (got < 0) return;  // nothing more; a socket that only listens has no other lasting failure
        obey({packet_.data(), static_cast<std::size_t>(got)}, "OSC " + readable(from), listener);
    }
}

// Nothing of a packet is obeyed before all of it is read, and known to be allowed.
void Osc::obey(std::span<const std::uint8_t> packet, std::string_view from, Listener& listener) {
    const std::uint64_t now = clock_.now();
    auto messages = read_osc(packet);
    if (!messages.ok()) return complaints_.tell(now, listener, from, messages.why());
    if (!admits(*messages))
        return complaints_.tell(now, listener, from,
                                "an OSC message without the secret of `--osc-secret` is not obeyed");
    for (const OscMessage& message : *messages) {
        const auto words = osc_words(message);
        if (!words.ok())
            complaints_.tell(now, listener, from, words.why());
        else if (!words->empty())
            listener.words(now, from, *words);
    }
}

// Takes the secret off every message; false when one of them has none.
bool Osc::admits(std::vector<OscMessage>& messages) const {
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

Status cannot_listen(const OscAddress& address, const char* what_to_do) {
    return Status::failure(fmt::format("cannot listen for OSC on {} port {}: {}; {}", address.host,
                                       address.port, std::strerror(errno), what_to_do));
}

}  // namespace

Result<OscAddress> parse_osc_address(std::string_view text) {
    const auto fault = Status::failure(fmt::format(
        "`{}` is no place to listen for OSC; write a port like `7700` for this machine alone, or an "
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

Result<std::unique_ptr<Trigger>> open_osc(const OscOptions& options, Clock& clock) {
    auto address = socket_address(options.address);
    if (!address) {
        errno = EINVAL;
        return cannot_listen(options.address, "give the address in digits");
    }
    const int fd = ::socket(address->any.sa_family, SOCK_DGRAM | SOCK_CLOEXEC | SOCK_NONBLOCK, 0);
    if (fd < 0) return cannot_listen(options.address, "check the limits on open files and on networks");
    const int off = 0;
    if (address->any.sa_family == AF_INET6)
        static_cast<void>(::setsockopt(fd, IPPROTO_IPV6, IPV6_V6ONLY, &off, sizeof off));
    socklen_t size = sizeof *address;
    if (::bind(fd, &address->any, size_of(*address)) != 0 || ::getsockname(fd, &address->any, &size) != 0) {
        const auto failure = cannot_listen(
            options.address, errno == EADDRINUSE
                                 ? "another program listens there; choose another port"
                                 : "give an address of this machine, as `ip address` shows them");
        ::close(fd);
        return failure;
    }
    return std::unique_ptr<Trigger>(
        std::make_unique<Osc>(fd, "OSC on " + readable(*address), options.secret, clock));
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
