// ANSI E1.31-2018 (streaming DMX over IP): what a source says of itself, and where packets go. The numbers of
// the standard's sections are cited from memory.
#pragma once

#include <array>
#include <cstdint>
#include <optional>
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
// The same in small letters.
std::string cid_text(const Cid& cid);

// What all packets of a source carry.
struct E131Source {
    Cid cid{};
    std::string name = "Tallow";  // UTF-8, at most 63 bytes: fitted_name() shortens
    std::uint8_t priority = 100;  // 0..200
    bool preview = false;         // for visualisation, not for the stage
    // The universe whose synchronization packets receivers wait for before they show new data, 1..63999, or
    // 0: they show it as it comes (E1.31, 6.3 and 11).
    std::uint16_t synchronization = 0;
    bool force_synchronization = false;  // receivers may go on without these packets when they stay away
};
inline constexpr unsigned e131_priority_max = 200;
inline constexpr std::uint16_t e131_port = 5568;
inline constexpr std::size_t e131_name_bytes = 63;
inline constexpr std::uint16_t e131_discovery_universe = 64214;

// The start of a name that fits, cut between two characters.
std::string_view fitted_name(std::string_view utf8);

// The multicast address of a universe, highest byte first: 239.255.hi.lo (E1.31, 9.3.1), and
// ff18::83:00:hi:lo (9.3.2), which is ff18::8300 and the universe.
constexpr std::uint32_t e131_multicast(std::uint16_t universe) {
    return 0xefff0000u | universe;
}
using Ipv6Bytes = std::array<std::uint8_t, 16>;
constexpr Ipv6Bytes e131_multicast_v6(std::uint16_t universe) {
    Ipv6Bytes a{0xff, 0x18};
    a[12] = 0x83;
    a[14] = static_cast<std::uint8_t>(universe >> 8);
    a[15] = static_cast<std::uint8_t>(universe);
    return a;
}

}  // namespace tallow::runtime
