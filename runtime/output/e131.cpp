#include "runtime/output/e131.hpp"

#include <algorithm>
#include <cerrno>
#include <cstring>
#include <fmt/format.h>
#include <sys/random.h>

#include "runtime/bytes.hpp"

namespace tallow::runtime {
namespace {

// Offsets of ANSI E1.31-2018, table 4-1 (E1.31 data packet).
constexpr std::size_t at_preamble = 0, at_identifier = 4, at_root_length = 16, at_root_vector = 18,
                      at_cid = 22, at_framing_length = 38, at_framing_vector = 40, at_name = 44,
                      at_priority = 108, at_sequence = 111, at_options = 112, at_universe = 113,
                      at_dmp_length = 115, at_dmp_vector = 117, at_address_type = 118, at_increment = 121,
                      at_count = 123, at_slots = 126;
constexpr std::uint8_t stream_terminated = 0x40;

// Flags and length of a layer that goes from `begin` to the packet's end.
void put_length(std::span<std::uint8_t> packet, std::size_t begin) {
    put_big(&packet[begin], static_cast<std::uint16_t>(0x7000 | (packet.size() - begin)));
}

int hex_digit(char c) {
    if (c >= '0' && c <= '9') return c - '0';
    if (c >= 'a' && c <= 'f') return c - 'a' + 10;
    if (c >= 'A' && c <= 'F') return c - 'A' + 10;
    return -1;
}

}  // namespace

Result<Cid> random_cid() {
    Cid cid;
    if (::getrandom(cid.data(), cid.size(), 0) != static_cast<ssize_t>(cid.size()))
        return Status::failure(
            fmt::format("cannot draw an identifier: {}; give one with `--cid`", std::strerror(errno)));
    cid[6] = static_cast<std::uint8_t>((cid[6] & 0x0f) | 0x40);  // version 4
    cid[8] = static_cast<std::uint8_t>((cid[8] & 0x3f) | 0x80);  // variant 1
    return cid;
}

std::optional<Cid> parse_cid(std::string_view text) {
    constexpr std::size_t length = 36;
    if (text.size() != length) return {};
    Cid cid{};
    std::size_t digits = 0;
    for (std::size_t i = 0; i < length; ++i) {
        const bool dash = i == 8 || i == 13 || i == 18 || i == 23;
        if (dash != (text[i] == '-')) return {};
        if (dash) continue;
        const int digit = hex_digit(text[i]);
        if (digit < 0) return {};
        cid[digits / 2] = static_cast<std::uint8_t>(cid[digits / 2] << 4 | digit);
        ++digits;
    }
    return cid;
}

std::string_view fitted_name(std::string_view utf8) {
    if (utf8.size() <= e131_name_bytes) return utf8;
    std::size_t end = e131_name_bytes;
    while (end > 0 && (static_cast<unsigned char>(utf8[end]) & 0xc0) == 0x80) --end;
    return utf8.substr(0, end);
}

E131Packet::E131Packet(const E131Source& source, std::uint16_t universe) : universe_(universe) {
    std::uint8_t* b = bytes_.data();
    put_big(b + at_preamble, std::uint16_t{0x0010});
    std::memcpy(b + at_identifier, "ASC-E1.17\0\0", 12);
    put_length(bytes_, at_root_length);
    put_big(b + at_root_vector, std::uint32_t{4});
    std::copy(source.cid.begin(), source.cid.end(), b + at_cid);
    put_length(bytes_, at_framing_length);
    put_big(b + at_framing_vector, std::uint32_t{2});
    const std::string_view name = fitted_name(source.name);
    std::copy(name.begin(), name.end(), b + at_name);
    b[at_priority] = source.priority;
    put_big(b + at_universe, universe);
    put_length(bytes_, at_dmp_length);
    b[at_dmp_vector] = 0x02;
    b[at_address_type] = 0xa1;
    put_big(b + at_increment, std::uint16_t{1});
    put_big(b + at_count, static_cast<std::uint16_t>(1 + size - at_slots));
}

bool E131Packet::take(std::span<const std::uint8_t> slots) {
    std::uint8_t* mine = bytes_.data() + at_slots;
    if (std::memcmp(mine, slots.data(), slots.size()) == 0) return false;
    std::memcpy(mine, slots.data(), slots.size());
    return true;
}

std::span<const std::uint8_t, E131Packet::size> E131Packet::next(bool last) {
    bytes_[at_sequence] = sequence_++;
    bytes_[at_options] = last ? stream_terminated : 0;
    return bytes_;
}

}  // namespace tallow::runtime
