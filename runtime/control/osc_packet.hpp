// Open Sound Control 1.0: messages from bytes and to bytes. liblo takes each message apart; what it is given
// is bounded here first.
#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "runtime/bytes.hpp"
#include "runtime/status.hpp"

namespace tallow::runtime {

// Limits of what is read; what exceeds one is refused whole.
inline constexpr std::size_t osc_packet_bytes = 8192;
inline constexpr std::size_t osc_messages = 64;   // in one packet, of all its bundles
inline constexpr std::size_t osc_arguments = 16;  // of one message
inline constexpr unsigned osc_depth = 4;          // of bundles in bundles

struct OscArgument {
    enum class Kind : std::uint8_t {
        integer,   // i, h: `number`
        fraction,  // f, d: `number` hundred-thousandths, rounded
        text,      // s, S
        truth,     // T, F: `number` 1 or 0
        other,     // nothing that the player knows, or a fraction that is no number or beyond ±1e9
    };
    Kind kind = Kind::integer;
    std::int64_t number = 0;
    std::string text;
    bool operator==(const OscArgument&) const = default;
};
inline constexpr std::int64_t osc_fraction_unit = 100000;

inline OscArgument osc_integer(std::int64_t number) {
    return {OscArgument::Kind::integer, number, {}};
}
inline OscArgument osc_text(std::string text) {
    return {OscArgument::Kind::text, 0, std::move(text)};
}

struct OscMessage {
    std::string address;  // "/tallow/go"
    std::vector<OscArgument> arguments;
    bool operator==(const OscMessage&) const = default;
};

// The messages of a packet, those of bundles in their order: whatever time they bear, they are for now. Fails
// where anything of the packet is broken, so that a bundle is obeyed whole or not at all.
Result<std::vector<OscMessage>> read_osc(std::span<const std::uint8_t> packet);

// The bytes of one message: integers as int32 where they fit, else int64; text, and truth. Fails for other
// kinds, an address that does not begin with `/`, text with a zero byte, and what is more than read_osc
// takes.
Result<Bytes> osc_bytes(const OscMessage& message);

// Hundred-thousandths from the bits of an IEEE 754 number (f: 32, d: 64), halves up; nothing for what is no
// number, or beyond ±1e9.
std::optional<std::int64_t> osc_fraction32(std::uint32_t bits);
std::optional<std::int64_t> osc_fraction64(std::uint64_t bits);

}  // namespace tallow::runtime
