#include "runtime/control/osc_packet.hpp"

#include <algorithm>
#include <cstring>
#include <fmt/format.h>
#include <lo/lo_lowlevel.h>
#include <memory>
#include <string_view>

namespace tallow::runtime {
namespace {

using Kind = OscArgument::Kind;

struct FreeMessage {
    void operator()(lo_message message) const { lo_message_free(message); }
};
using Message = std::unique_ptr<void, FreeMessage>;  // lo_message is a pointer to void

Status broken(std::string_view why) {
    return Status::failure(fmt::format("this is no OSC packet: {}", why));
}

constexpr std::uint64_t fraction_max = std::uint64_t{1000000000} * osc_fraction_unit;

// m · 2^e in hundred-thousandths, m below 2^46; halves away from zero.
std::optional<std::int64_t> scaled(std::uint64_t m, int e, bool negative) {
    std::uint64_t value = m * std::uint64_t{osc_fraction_unit};  // below 2^63
    if (e >= 0) {
        const int up = std::min(e, 62);  // more than `fraction_max` allows
        if (value > fraction_max >> up) return {};
        value <<= up;
    } else {
        value = e < -63 ? 0 : ((value >> (-e - 1)) + 1) >> 1;
        if (value > fraction_max) return {};
    }
    const auto whole = static_cast<std::int64_t>(value);
    return negative ? -whole : whole;
}

OscArgument as_fraction(std::optional<std::int64_t> hundred_thousandths) {
    if (!hundred_thousandths) return {Kind::other, 0, {}};
    return {Kind::fraction, *hundred_thousandths, {}};
}

// The bits of a number, which liblo has put in the machine's own order, on any boundary.
template <class T>
T bits(const lo_arg* argument) {
    T value{};
    std::memcpy(&value, argument, sizeof value);
    return value;
}

OscArgument read_argument(char type, const lo_arg* argument) {
    switch (type) {
        case 'i':
            return osc_integer(bits<std::int32_t>(argument));
        case 'h':
            return osc_integer(bits<std::int64_t>(argument));
        case 'f':
            return as_fraction(osc_fraction32(bits<std::uint32_t>(argument)));
        case 'd':
            return as_fraction(osc_fraction64(bits<std::uint64_t>(argument)));
        case 's':
        case 'S':
            return osc_text(reinterpret_cast<const char*>(argument));
        case 'T':
        case 'F':
            return {Kind::truth, type == 'T', {}};
        default:
            return {Kind::other, 0, {}};
    }
}

class PacketReader {
  public:
    Status read(std::span<const std::uint8_t> packet, unsigned depth);
    std::vector<OscMessage> messages;

  private:
    Status bundle(std::span<const std::uint8_t> packet, unsigned depth);
    Status message(std::span<const std::uint8_t> packet);
};

constexpr std::string_view bundle_tag("#bundle\0", 8);
constexpr std::size_t bundle_head = 16;  // the tag, and a time

Status PacketReader::read(std::span<const std::uint8_t> packet, unsigned depth) {
    if (packet.empty() || packet.size() % 4 != 0) return broken("its size is no multiple of four bytes");
    if (as_text(packet).starts_with(bundle_tag)) return bundle(packet, depth);
    return message(packet);
}

Status PacketReader::bundle(std::span<const std::uint8_t> packet, unsigned depth) {
    if (depth == osc_depth) return broken(fmt::format("bundles lie more than {} deep", osc_depth));
    if (packet.size() < bundle_head) return broken("a bundle has no time");
    for (packet = packet.subspan(bundle_head); !packet.empty();) {
        const auto size = get_big<std::uint32_t>(packet.data());  // there are four bytes at least
        packet = packet.subspan(4);
        if (size > packet.size()) return broken("an element is longer than its bundle");
        if (auto s = read(packet.first(size), depth + 1); !s.ok()) return s;
        packet = packet.subspan(size);
    }
    return {};
}

Status PacketReader::message(std::span<const std::uint8_t> packet) {
    if (messages.size() == osc_messages)
        return broken(fmt::format("it has more than {} messages", osc_messages));
    if (packet.front() != '/') return broken("its address does not begin with `/`");
    // liblo turns the bytes in place, and asks for types, which old senders leave away where there are none.
    Bytes copy(packet.begin(), packet.end());
    if (std::find(copy.begin(), copy.end(), ',') == copy.end()) copy.insert(copy.end(), {',', 0, 0, 0});
    int why = 0;
    const Message read(lo_message_deserialise(copy.data(), copy.size(), &why));
    if (!read) return broken("its address, types or arguments are cut or wrong");
    const auto count = static_cast<std::size_t>(lo_message_get_argc(read.get()));
    if (count > osc_arguments) return broken(fmt::format("it has more than {} arguments", osc_arguments));
    const std::string_view types = lo_message_get_types(read.get());
    OscMessage& to = messages.emplace_back();
    to.address = reinterpret_cast<const char*>(copy.data());
    for (std::size_t i = 0; i < count; ++i)
        to.arguments.push_back(read_argument(types[i], lo_message_get_argv(read.get())[i]));
    return {};
}

bool has_zero(std::string_view text) {
    return text.find('\0') != std::string_view::npos;
}

bool add(lo_message message, const OscArgument& argument) {
    switch (argument.kind) {
        case Kind::integer:
            if (argument.number == static_cast<std::int32_t>(argument.number))
                return lo_message_add_int32(message, static_cast<std::int32_t>(argument.number)) == 0;
            return lo_message_add_int64(message, argument.number) == 0;
        case Kind::text:
            return !has_zero(argument.text) && lo_message_add_string(message, argument.text.c_str()) == 0;
        case Kind::truth:
            return (argument.number != 0 ? lo_message_add_true(message) : lo_message_add_false(message)) == 0;
        case Kind::fraction:
        case Kind::other:
            return false;
    }
    return false;
}

}  // namespace

std::optional<std::int64_t> osc_fraction32(std::uint32_t bits) {
    const unsigned exponent = bits >> 23 & 0xff;
    const std::uint32_t part = bits & 0x7fffff;
    if (exponent == 0xff) return {};
    const std::uint32_t mantissa = exponent == 0 ? part : part | 0x800000;
    return scaled(mantissa, static_cast<int>(std::max(exponent, 1u)) - 150, bits >> 31 != 0);
}

// The lowest seven bits are far below what is kept.
std::optional<std::int64_t> osc_fraction64(std::uint64_t bits) {
    const auto exponent = static_cast<unsigned>(bits >> 52 & 0x7ff);
    const std::uint64_t part = bits & ((std::uint64_t{1} << 52) - 1);
    if (exponent == 0x7ff) return {};
    const std::uint64_t mantissa = exponent == 0 ? part : part | std::uint64_t{1} << 52;
    return scaled(mantissa >> 7, static_cast<int>(std::max(exponent, 1u)) - 1075 + 7, bits >> 63 != 0);
}

Result<std::vector<OscMessage>> read_osc(std::span<const std::uint8_t> packet) {
    if (packet.size() > osc_packet_bytes)
        return broken(fmt::format("it has more than {} bytes", osc_packet_bytes));
    PacketReader reader;
    if (auto s = reader.read(packet, 0); !s.ok()) return s;
    return std::move(reader.messages);
}

Result<Bytes> osc_bytes(const OscMessage& message) {
    const auto failure = [&](std::string_view why) {
        return Status::failure(fmt::format("cannot write OSC message `{}`: {}", message.address, why));
    };
    if (!message.address.starts_with('/') || has_zero(message.address))
        return failure("an address begins with `/` and has no zero byte");
    if (message.arguments.size() > osc_arguments)
        return failure(fmt::format("it has more than {} arguments", osc_arguments));
    const Message made(lo_message_new());
    for (const OscArgument& argument : message.arguments)
        if (!add(made.get(), argument))
            return failure("arguments are whole numbers, truth, and text without zero bytes");
    Bytes bytes(lo_message_length(made.get(), message.address.c_str()));
    if (bytes.size() > osc_packet_bytes)
        return failure(fmt::format("it has more than {} bytes", osc_packet_bytes));
    lo_message_serialise(made.get(), message.address.c_str(), bytes.data(), nullptr);
    return bytes;
}

}  // namespace tallow::runtime
