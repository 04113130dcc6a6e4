// States on their way from a player to those that stand by for it, by OSC: /tallow/state, with an id, the
// number of this part, how many there are, text (state.hpp), and for how many microseconds the show had stood
// so when it was sent (negative: until it will); and /tallow/state/end. Back to where a state came from goes
// /tallow/state/heard, with a StandsBy.
#pragma once

#include <cstdint>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "runtime/control/osc_socket.hpp"
#include "runtime/output/carrier.hpp"
#include "runtime/output/udp_address.hpp"
#include "runtime/status.hpp"
#include "runtime/survival/backup.hpp"
#include "runtime/survival/host_search.hpp"

namespace tallow::runtime {

inline constexpr std::uint16_t state_port = 7701;
inline constexpr std::size_t state_part_bytes = 6000;  // of the text
inline constexpr std::size_t state_parts = 64;         // at the most
inline constexpr std::size_t state_parts_at_once = 16;
inline constexpr std::size_t state_senders = 8;  // whose parts are kept at one time, and who are answered
inline constexpr std::uint64_t answers_apart_ns = 500000000;  // to one of them
inline constexpr int answers_at_once = 16;                    // that are read of one place

// An answer that somebody stands by, as a message, and the other way; nothing where it is none.
OscMessage standing_by(StandsBy how);
std::optional<StandsBy> read_standing_by(const OscMessage& message);

class StateSender {
  public:
    // To each host, whether it can be reached yet or not. Names are looked up here; one that is not found
    // counts as trouble and is looked up again, as a show does not wait for that. `secret`: "" for none.
    static Result<std::unique_ptr<StateSender>> open(const std::vector<Host>& hosts,
                                                     const std::string& secret,
                                                     const FindHost& find = by_name,
                                                     const SearchPauses& pauses = {});

    // Never waits; what is lost on the way is made good by the next one. Of a long text it sends a part that
    // sockets have room for, and the rest at the next calls, whose texts are passed over. `stood_ns`: when
    // the show stood so, or within a day will; by the clock of `now_ns`.
    void send(std::string_view text, std::uint64_t stood_ns, std::uint64_t now_ns);
    // Reads what was answered; never waits.
    void hear(std::uint64_t now_ns);
    // The show has ended in order: nobody is to take over.
    void end();
    // Why something could not be sent of late, or "".
    std::string trouble() const;
    // Of each host that is found.
    void each_backup(const std::function<void(Backup&)>& with);

  private:
    struct Link {
        explicit Link(const Host& of) : host(of) {}
        Host host;
        SocketAddress to{};
        std::unique_ptr<OscSocket> socket;   // none while the host is not found
        std::optional<Backup> backup;        // in the same way
        std::unique_ptr<HostSearch> search;  // none once it is found
        std::string trouble;
    };
    static Result<SocketAddress> by_name(const Host& host);
    StateSender() = default;
    Status connect(Link& link, const SocketAddress& to) const;
    void connect_found();
    void send_message(const OscMessage& message);

    std::string secret_;
    std::vector<Link> links_;
    std::string trouble_;
    std::int64_t id_ = 0;
    std::string text_;            // of the state with this id
    std::size_t next_ = 0;        // part of it to be sent
    std::uint64_t stood_ns_ = 0;  // when the show stood so
};

// What was heard of one player.
struct HeardState {
    std::string from{};                 // its address and port
    std::optional<std::string> text{};  // of its latest state that is whole
    std::int64_t age_ns = 0;            // of that, when it was sent; negative: the show will stand so
    bool ended = false;                 // in order, and nothing came after that
    std::string complaint{};            // why something that came was not understood
    SocketAddress address{};            // the same as `from`
};

// Puts the states of one player together of their parts, in whatever order those come.
class StateParts {
  public:
    // Adds to what was heard.
    void take(const OscMessage& message, HeardState& heard);

  private:
    void take_part(const OscMessage& message, HeardState& heard);

    std::int64_t id_ = -1;
    std::vector<std::optional<std::string>> parts_;  // of the state with this id
};

class StateHearer {
  public:
    explicit StateHearer(std::unique_ptr<OscSocket> socket) : socket_(std::move(socket)) {}

    // All that has come, of each player in the order in which they were heard; never waits.
    std::vector<HeardState> read();
    // Tells one of them that somebody stands by, where it was not told of late. Never waits.
    void answer(const HeardState& heard, StandsBy how, std::uint64_t ns);
    int descriptor() const { return socket_->descriptor(); }
    const std::string& address() const { return socket_->address(); }

  private:
    StateParts& parts_of(const std::string& from);

    std::unique_ptr<OscSocket> socket_;
    std::vector<std::pair<std::string, StateParts>> parts_;        // by player, the one heard last behind
    std::vector<std::pair<std::string, std::uint64_t>> answered_;  // of late, and when
};

}  // namespace tallow::runtime
