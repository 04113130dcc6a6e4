#include "runtime/survival/state_link.hpp"

#include <algorithm>
#include <cerrno>
#include <cstring>
#include <fmt/format.h>
#include <sys/socket.h>

#include "runtime/survival/leader.hpp"

namespace tallow::runtime {
namespace {

constexpr const char *state_address = "/tallow/state", *end_address = "/tallow/state/end",
                     *answer_address = "/tallow/state/heard";
constexpr int packets_at_once = 1024;
constexpr std::int64_t oldest_us = 60000000;
constexpr std::int64_t soonest_us = -90000000000;  // 25 hours: a day, where clocks are put back

std::string place(const Host& host) {
    return fmt::format("{} port {}", host.name, host.port);
}

bool is_v6(const SocketAddress& address) {
    return address.any.sa_family == AF_INET6;
}

// What the other player is to listen on, so that it hears all that comes to it by this version of IP.
std::string everywhere(const SocketAddress& like, std::uint16_t port) {
    return fmt::format("{}:{}", is_v6(like) ? "[::]" : "0.0.0.0", port);
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

OscMessage standing_by(StandsBy how) {
    return {answer_address, {osc_integer(static_cast<std::int64_t>(how))}};
}

std::optional<StandsBy> read_standing_by(const OscMessage& message) {
    const auto& a = message.arguments;
    if (message.address != answer_address || a.size() != 1 || !is_number(a[0])) return {};
    if (a[0].number < 0 || a[0].number > static_cast<std::int64_t>(StandsBy::for_another_player)) return {};
    return static_cast<StandsBy>(a[0].number);
}

Result<SocketAddress> StateSender::by_name(const Host& host) {
    return find_host(host, {true, true});
}

Result<std::unique_ptr<StateSender>> StateSender::open(const std::vector<Host>& hosts,
                                                       const std::string& secret, const FindHost& find,
                                                       const SearchPauses& pauses) {
    std::unique_ptr<StateSender> sender(new StateSender);
    sender->secret_ = secret;
    for (const Host& host : hosts) {
        Link& link = sender->links_.emplace_back(host);
        const auto to = find(host);
        if (to.ok()) {
            if (auto s = sender->connect(link, *to); !s.ok()) return s;
            continue;
        }
        link.trouble = to.why() + "; it is looked up again";
        auto search = HostSearch::start(host, find, pauses);
        if (search.ok())
            link.search = std::move(*search);
        else
            link.trouble = search.why();
    }
    return sender;
}

// The address that it sends to is told with each packet: a route may come later, and go.
Status StateSender::connect(Link& link, const SocketAddress& to) const {
    auto socket = OscSocket::open({is_v6(to) ? "::" : "0.0.0.0", 0}, secret_);
    if (!socket.ok()) return socket.status();
    link.backup.emplace(place(link.host), everywhere(to, link.host.port));
    link.to = to;
    link.socket = std::move(*socket);
    return {};
}

void StateSender::connect_found() {
    for (Link& link : links_) {
        const auto at = link.search ? link.search->found() : std::nullopt;
        if (!at) continue;
        link.search.reset();
        link.trouble = connect(link, *at).why();
    }
}

void StateSender::send_message(const OscMessage& message) {
    trouble_.clear();
    for (const Link& link : links_) {
        if (!link.socket) continue;
        const auto bytes = link.socket->bytes(message);
        if (!bytes.ok())
            trouble_ = bytes.why();
        else if (!link.socket->send(*bytes, link.to))
            trouble_ = fmt::format("cannot send to {}: {}; check the address and the network",
                                   place(link.host), std::strerror(errno));
    }
}

std::string StateSender::trouble() const {
    if (!trouble_.empty()) return trouble_;
    const auto troubled =
        std::find_if(links_.begin(), links_.end(), [](const Link& link) { return !link.trouble.empty(); });
    return troubled == links_.end() ? "" : troubled->trouble;
}

void StateSender::each_backup(const std::function<void(Backup&)>& with) {
    for (Link& link : links_)
        if (link.backup) with(*link.backup);
}

void StateSender::hear(std::uint64_t now_ns) {
    for (Link& link : links_) {
        for (int n = 0; link.socket && n < answers_at_once; ++n) {
            const auto packet = link.socket->receive();
            if (!packet) break;
            if (!packet->messages.ok()) continue;
            for (const OscMessage& message : *packet->messages)
                if (const auto how = read_standing_by(message))
                    link.backup->answers(machine_of(packet->from), *how, now_ns);
        }
    }
}

void StateSender::send(std::string_view text, std::uint64_t stood_ns, std::uint64_t now_ns) {
    connect_found();
    each_backup([&](Backup& backup) { backup.told(now_ns); });
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
        heard->address = packet->address;
        if (!packet->messages.ok()) {
            heard->complaint = packet->messages.why();
            continue;
        }
        StateParts& parts = parts_of(packet->from);
        for (const OscMessage& message : *packet->messages) parts.take(message, *heard);
    }
    return all;
}

void StateHearer::answer(const HeardState& heard, StandsBy how, std::uint64_t ns) {
    std::erase_if(answered_, [&](const auto& one) { return ns - one.second >= answers_apart_ns; });
    const bool of_late = std::any_of(answered_.begin(), answered_.end(),
                                     [&](const auto& one) { return one.first == heard.from; });
    if (of_late || answered_.size() == state_senders) return;
    answered_.emplace_back(heard.from, ns);
    // One that cannot be sent is as one that is lost: the next one makes it good.
    if (const auto bytes = socket_->bytes(standing_by(how)); bytes.ok())
        static_cast<void>(socket_->send(*bytes, heard.address));
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
