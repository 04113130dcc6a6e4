#include "runtime/survival/state_link.hpp"

#include <algorithm>
#include <cerrno>
#include <cstring>
#include <fmt/format.h>
#include <sys/socket.h>
#include <unistd.h>

namespace tallow::runtime {
namespace {

constexpr const char *state_address = "/tallow/state", *end_address = "/tallow/state/end";
constexpr int packets_at_once = 1024;
constexpr std::int64_t oldest_us = 60000000;

// The address that a socket sends to is told with each packet: a route may come later, and go.
int open_socket(const SocketAddress& to) {
    return ::socket(to.any.sa_family, SOCK_DGRAM | SOCK_CLOEXEC | SOCK_NONBLOCK, 0);
}

std::size_t parts_in(std::string_view text) {
    return (text.size() + state_part_bytes - 1) / state_part_bytes;
}

bool is_number(const OscArgument& a) {
    return a.kind == OscArgument::Kind::integer;
}

}  // namespace

Result<std::unique_ptr<StateSender>> StateSender::open(const std::vector<Host>& hosts, std::string secret) {
    std::unique_ptr<StateSender> sender(new StateSender(std::move(secret)));
    for (const Host& host : hosts) {
        const auto to = find_host(host, {true, true});
        if (!to.ok()) return to.status();
        const int fd = open_socket(*to);
        if (fd < 0)
            return Status::failure(
                fmt::format("cannot open a socket: {}; check the limits on open files and on networks",
                            std::strerror(errno)));
        sender->links_.push_back({fd, *to, fmt::format("{} port {}", host.name, host.port)});
    }
    return sender;
}

StateSender::~StateSender() {
    for (const Link& link : links_) ::close(link.socket);
}

void StateSender::send_message(OscMessage message) {
    if (!secret_.empty()) message.arguments.push_back(osc_text(secret_));
    const auto bytes = osc_bytes(message);
    if (!bytes.ok()) return;
    trouble_.clear();
    for (const Link& link : links_)
        if (::sendto(link.socket, bytes->data(), bytes->size(), MSG_DONTWAIT | MSG_NOSIGNAL, &link.to.any,
                     size_of(link.to)) < 0 &&
            errno != EAGAIN)
            trouble_ = fmt::format("cannot send to {}: {}; check the address and the network", link.name,
                                   std::strerror(errno));
}

void StateSender::send(std::string_view text, std::uint64_t stood_ns, std::uint64_t now_ns) {
    if (next_ == parts_in(text_)) {
        if (parts_in(text) > state_parts) {
            trouble_ = fmt::format("how the show stands takes more than {} bytes; nobody can take over",
                                   state_parts * state_part_bytes);
            return;
        }
        text_ = text;
        stood_ns_ = stood_ns;
        next_ = 0;
        ++id_;
    }
    const std::size_t parts = parts_in(text_), stop = std::min(parts, next_ + state_parts_at_once);
    const auto age_us = static_cast<std::int64_t>((now_ns - stood_ns_) / 1000);
    for (; next_ < stop; ++next_)
        send_message({state_address,
                      {osc_integer(id_), osc_integer(static_cast<std::int64_t>(next_)),
                       osc_integer(static_cast<std::int64_t>(parts)),
                       osc_text(text_.substr(next_ * state_part_bytes, state_part_bytes)),
                       osc_integer(std::min(age_us, oldest_us))}});
}

void StateSender::end() {
    for (int i = 0; i < 3; ++i) send_message({end_address, {}});
}

HeardState StateHearer::read() {
    HeardState heard;
    for (int n = 0; n < packets_at_once; ++n) {
        const auto packet = socket_->receive();
        if (!packet) break;
        if (!packet->messages.ok()) {
            heard.complaint = fmt::format("{}: {}", packet->from, packet->messages.why());
            continue;
        }
        for (const OscMessage& message : *packet->messages) {
            parts_.take(message, heard);
            if (heard.text) heard.from = packet->from;
        }
    }
    return heard;
}

void StateParts::take(const OscMessage& message, HeardState& heard) {
    const auto& a = message.arguments;
    if (message.address == end_address) {
        heard.ended = true;
        heard.text.reset();  // of the show that has ended
        return;
    }
    const bool fits = message.address == state_address && a.size() == 5 && is_number(a[0]) &&
                      is_number(a[1]) && is_number(a[2]) && a[3].kind == OscArgument::Kind::text &&
                      is_number(a[4]) && a[4].number >= 0 && a[4].number <= oldest_us;
    const auto most = static_cast<std::int64_t>(state_parts);
    if (!fits || a[2].number < 1 || a[2].number > most || a[1].number < 0 || a[1].number >= a[2].number) {
        heard.complaint = "an OSC message that is no state of a show";
        return;
    }
    const auto part = static_cast<std::size_t>(a[1].number), parts = static_cast<std::size_t>(a[2].number);
    if (a[0].number != id_ || parts_.size() != parts) parts_.assign(parts, {});
    id_ = a[0].number;
    parts_[part] = a[3].text;
    if (!std::all_of(parts_.begin(), parts_.end(), [](const auto& p) { return p.has_value(); })) return;
    std::string whole;
    for (const auto& p : parts_) whole += *p;
    heard.text = std::move(whole);
    heard.age_ns = static_cast<std::uint64_t>(a[4].number) * 1000;
    heard.ended = false;
}

}  // namespace tallow::runtime
