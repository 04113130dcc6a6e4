#include "runtime/output/e131_packets.hpp"

#include <algorithm>
#include <cstring>

namespace tallow::runtime {
namespace {

// Offsets of ANSI E1.31-2018: of all packets, of the data packet (table 4-1), of the synchronization packet
// (4-2), of the universe discovery packet (4-3).
constexpr std::size_t at_preamble = 0, at_identifier = 4, at_root_length = 16, at_root_vector = 18,
                      at_cid = 22, at_framing_length = 38, at_framing_vector = 40, at_name = 44;
constexpr std::size_t at_priority = 108, at_synchronization = 109, at_sequence = 111, at_options = 112,
                      at_universe = 113, at_dmp_length = 115, at_dmp_vector = 117, at_address_type = 118,
                      at_increment = 121, at_count = 123, at_slots = 126;
constexpr std::size_t at_sync_sequence = 44, at_sync_address = 45;
constexpr std::size_t at_list_length = 112, at_list_vector = 114, at_page = 118, at_last_page = 119,
                      at_list = 120, page_universes = 512;
constexpr std::uint32_t root_data = 4, root_extended = 8;
constexpr std::uint32_t framing_sync = 1, framing_data = 2, framing_discovery = 2, discovery_list = 1;
constexpr std::uint8_t preview_data = 0x80, stream_terminated = 0x40, force_sync = 0x20;

// Flags and length of a layer that goes from `begin` to the packet's end.
void put_length(std::span<std::uint8_t> packet, std::size_t begin) {
    put_big(&packet[begin], static_cast<std::uint16_t>(0x7000 | (packet.size() - begin)));
}

// What all packets begin with, up to the framing vector.
void put_root(std::span<std::uint8_t> packet, const Cid& cid, std::uint32_t root, std::uint32_t framing) {
    std::uint8_t* b = packet.data();
    put_big(b + at_preamble, std::uint16_t{0x0010});
    std::memcpy(b + at_identifier, "ASC-E1.17\0\0", 12);
    put_length(packet, at_root_length);
    put_big(b + at_root_vector, root);
    std::copy(cid.begin(), cid.end(), b + at_cid);
    put_length(packet, at_framing_length);
    put_big(b + at_framing_vector, framing);
}

void put_name(std::span<std::uint8_t> packet, std::string_view utf8) {
    const std::string_view name = fitted_name(utf8);
    std::copy(name.begin(), name.end(), packet.data() + at_name);
}

std::uint8_t lasting_options(const E131Source& source) {
    return static_cast<std::uint8_t>((source.preview ? preview_data : 0) |
                                     (source.force_synchronization ? force_sync : 0));
}

}  // namespace

E131Packet::E131Packet(const E131Source& source, std::uint16_t universe)
    : universe_(universe), options_(lasting_options(source)) {
    put_root(bytes_, source.cid, root_data, framing_data);
    put_name(bytes_, source.name);
    std::uint8_t* b = bytes_.data();
    b[at_priority] = source.priority;
    put_big(b + at_synchronization, source.synchronization);
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
    bytes_[at_options] = last ? options_ | stream_terminated : options_;
    return bytes_;
}

E131SyncPacket::E131SyncPacket(const E131Source& source) {
    put_root(bytes_, source.cid, root_extended, framing_sync);
    put_big(&bytes_[at_sync_address], source.synchronization);
}

std::span<const std::uint8_t, E131SyncPacket::size> E131SyncPacket::next() {
    bytes_[at_sync_sequence] = sequence_++;
    return bytes_;
}

std::vector<Bytes> e131_discovery(const E131Source& source, std::vector<std::uint16_t> universes) {
    std::sort(universes.begin(), universes.end());
    universes.erase(std::unique(universes.begin(), universes.end()), universes.end());
    const std::size_t count =
        std::max<std::size_t>((universes.size() + page_universes - 1) / page_universes, 1);
    std::vector<Bytes> pages;
    for (std::size_t page = 0; page < count; ++page) {
        const auto list = std::span(universes).subspan(
            page * page_universes, std::min(page_universes, universes.size() - page * page_universes));
        Bytes& b = pages.emplace_back(at_list + 2 * list.size());
        put_root(b, source.cid, root_extended, framing_discovery);
        put_name(b, source.name);
        put_length(b, at_list_length);
        put_big(&b[at_list_vector], discovery_list);
        b[at_page] = static_cast<std::uint8_t>(page);
        b[at_last_page] = static_cast<std::uint8_t>(count - 1);
        for (std::size_t i = 0; i < list.size(); ++i) put_big(b.data() + at_list + 2 * i, list[i]);
    }
    return pages;
}

}  // namespace tallow::runtime
