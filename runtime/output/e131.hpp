// Data packets of ANSI E1.31-2018 (streaming DMX over IP): built once for a universe, then only their slots
// and sequence number change. The numbers of its sections are cited from memory.
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <string_view>

#include "runtime/status.hpp"

namespace tallow::runtime {

// A component identifier: a UUID, constant for a source (E1.31, 5.6).
using Cid = std::array<std::uint8_t, 16>;
// A new one, version 4 of RFC 4122, from the system's random numbers.
Result<Cid> random_cid();
// From "00000000-0000-4000-8000-000000000000"; nothing when it is no UUID.
std::optional<Cid> parse_cid(std::string_view text);

// What all packets of a source carry.
struct E131Source {
    Cid cid{};
    std::string name = "Tallow";  // UTF-8, at most 63 bytes: fitted_name() shortens
    std::uint8_t priority = 100;  // 0..200
};
inline constexpr unsigned e131_priority_max = 200;
inline constexpr std::uint16_t e131_port = 5568;
inline constexpr std::size_t e131_name_bytes = 63;

// The start of a name that fits, cut between two characters.
std::string_view fitted_name(std::string_view utf8);

// The multicast address of a universe: 239.255.hi.lo (E1.31, 9.3.1), highest byte first.
constexpr std::uint32_t e131_multicast(std::uint16_t universe) {
    return 0xefff0000u | universe;
}

// The packet of one universe, always with all 512 slots.
class E131Packet {
  public:
    static constexpr std::size_t size = 638;
    E131Packet(const E131Source& source, std::uint16_t universe);
    // Takes the levels, the slots past them staying 0; whether any differs from the packet's.
    bool take(std::span<const std::uint8_t> slots);
    // Numbers the packet as the next one of its universe; `last` sets the bit that ends the stream. The bytes
    // to send.
    std::span<const std::uint8_t, size> next(bool last = false);
    std::uint16_t universe() const { return universe_; }

  private:
    std::array<std::uint8_t, size> bytes_{};
    std::uint16_t universe_;
    std::uint8_t sequence_ = 0;
};

// Which frames of a universe are sent: every one that changes, three more, and while nothing changes one
// every 800..1000 ms (E1.31, 6.6.2). Counted in frames, so that the same show gives the same packets.
class E131Pace {
  public:
    explicit E131Pace(std::uint32_t refresh) : rest_((refresh * 4 + 4) / 5) {}
    // Whether frame n, n growing, is to be sent.
    bool due(std::uint64_t n, bool changed) {
        if (changed || first_) more_ = 1 + repeats;
        const bool now = more_ > 0 || n - sent_ >= rest_;
        if (now) sent_ = n;
        if (more_ > 0) --more_;
        first_ = false;
        return now;
    }

  private:
    static constexpr unsigned repeats = 3;
    std::uint64_t rest_;  // frames in 800 ms, rounded up
    std::uint64_t sent_ = 0;
    unsigned more_ = 0;
    bool first_ = true;
};

}  // namespace tallow::runtime
