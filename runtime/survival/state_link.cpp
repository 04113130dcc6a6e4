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
constexpr std::int64_t soonest_us = -90000000000;  // 25 hours: a day, where clocks are put back

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

bool is_text(const OscArgument& a) {
    return a.kind == OscArgument::Kind::text;
}

bool is_part(const OscMessage& message) {
    const auto& a = message.arguments;
    return message.address == state_address && a.size() == 5 && is_number(a[0]) && is_number(a[1]) &&
           is_number(a[2]) && is_text(a[3]) && is_number(a[4]) && a[2].number >= 1 &&
           a[2].number <= static_cast<std::int64_t>(state_parts) && a[1].number >= 0 &&
           a[1].number < a[2].number && a[4].number >= soonest_us && a[4].number <= oldest_us;
}

// Where the player that listens has a secret, the socket takes it off.
bool bears_secret(const OscMessage& message) {
    const auto& a = message.arguments;
    const bool fits = (message.address == end_address && a.size() == 1) ||
                      (message.address == state_address && a.size() == 6);
    return fits && (is_text(a.front()) || is_text(a.back()));
}

}  // namespace

Result<std::unique_ptr<StateSender>> StateSender::open(const std::vector<Host>& hosts, std::string secret) {
    std::unique_ptr<StateSender> sender(new StateSender(std::move(secret)));
    for (const Host& host : hosts) {
        const auto to = find_host(host, {true, true});
        if (!to.ok()) {
            sender->unknown_ = to.why() + "; start this player again to tell it";
            continue;
        }
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
    trouble_ = bytes.why();
    if (!bytes.ok()) return;
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
    const auto age_us = static_cast<std::int64_t>(now_ns - stood_ns_) / 1000;
    for (; next_ < stop; ++next_)
        send_message({state_address,
                      {osc_integer(id_), osc_integer(static_cast<std::int64_t>(next_)),
                       osc_integer(static_cast<std::int64_t>(parts)),
                       osc_text(text_.substr(next_ * state_part_bytes, state_part_bytes)),
                       osc_integer(std::clamp(age_us, soonest_us, oldest_us))}});
}

void StateSender::end() {
    for (int i = 0; i < 3; ++i) send_message({end_address, {}});
}

std::vector<HeardState> StateHearer::read() {
    std::vector<HeardState> all;
    for (int n = 0; n < packets_at_once; ++n) {
        const auto packet = socket_->receive();
        if (!packet) break;
        auto heard = std::find_if(all.begin(), all.end(),
                                  [&](const HeardState& one) { return one.from == packet->from; });
        if (heard == all.end()) heard = all.insert(all.end(), HeardState{packet->from});
        if (!packet->messages.ok()) {
            heard->complaint = packet->messages.why();
            continue;
        }
        StateParts& parts = parts_of(packet->from);
        for (const OscMessage& message : *packet->messages) parts.take(message, *heard);
    }
    return all;
}

// Where too many have been heard, the one that has been silent for longest is forgotten.
StateParts& StateHearer::parts_of(const std::string& from) {
    const auto known =
        std::find_if(parts_.begin(), parts_.end(), [&](const auto& one) { return one.first == from; });
    if (known != parts_.end()) {
        std::rotate(known, known + 1, parts_.end());
        return parts_.back().second;
    }
    if (parts_.size() == state_senders) parts_.erase(parts_.begin());
    return parts_.emplace_back(from, StateParts()).second;
}

void StateParts::take(const OscMessage& message, HeardState& heard) {
    if (message.address == end_address && message.arguments.empty()) {
        heard.ended = true;
        heard.text.reset();  // of the show that has ended
    } else if (is_part(message)) {
        take_part(message, heard);
    } else if (bears_secret(message)) {
        heard.complaint =
            "tells with a secret, and this player was given none: give both the same `--osc-secret`";
    } else {
        heard.complaint = "an OSC message that is no state of a show; commands go to the port of `--osc`";
    }
}

void StateParts::take_part(const OscMessage& message, HeardState& heard) {
    const auto& a = message.arguments;
    const auto part = static_cast<std::size_t>(a[1].number), parts = static_cast<std::size_t>(a[2].number);
    if (a[0].number != id_ || parts_.size() != parts) parts_.assign(parts, {});
    id_ = a[0].number;
    parts_[part] = a[3].text;
    if (!std::all_of(parts_.begin(), parts_.end(), [](const auto& p) { return p.has_value(); })) return;
    std::string whole;
    for (const auto& p : parts_) whole += *p;
    heard.text = std::move(whole);
    heard.age_ns = a[4].number * 1000;
    heard.ended = false;
}

}  // namespace tallow::runtime
