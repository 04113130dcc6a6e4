// Packets into a capture file: classic pcap (draft-ietf-opsawg-pcap), IPv4 (RFC 791), IPv6 (RFC 8200), UDP
// (RFC 768).
#include <algorithm>
#include <array>

#include "runtime/bytes.hpp"
#include "runtime/files.hpp"
#include "runtime/output/carrier.hpp"

namespace tallow::runtime {
namespace {

constexpr std::uint32_t pcap_magic = 0xa1b2c3d4, snapshot_bytes = 65535, link_raw_ip = 101;
constexpr std::uint32_t source_v4 = 0xc0000201;                    // 192.0.2.1, for documentation (RFC 5737)
constexpr Ipv6Bytes source_v6{0x20, 0x01, 0x0d, 0xb8, 0, 0, 0, 0,  // 2001:db8::1, the same (RFC 3849)
                              0,    0,    0,    0,    0, 0, 0, 1};
constexpr std::size_t v4_bytes = 20, v6_bytes = 40, udp_bytes = 8;
constexpr std::size_t gathered_bytes = std::size_t{1} << 20;
constexpr std::uint8_t protocol_udp = 17, hops = 1;  // as multicast goes out by default

// The sum of 16-bit words, highest byte first, an odd last byte filled up with 0 (RFC 1071).
std::uint32_t sum_words(std::span<const std::uint8_t> bytes, std::uint32_t sum = 0) {
    std::size_t i = 0;
    for (; i + 1 < bytes.size(); i += 2) sum += get_big<std::uint16_t>(&bytes[i]);
    return i < bytes.size() ? sum + (std::uint32_t{bytes[i]} << 8) : sum;
}

std::uint16_t checksum(std::uint32_t sum) {
    while (sum >> 16 != 0) sum = (sum & 0xffff) + (sum >> 16);
    return static_cast<std::uint16_t>(~sum);
}

// The header before UDP; its addresses, which are part of UDP's checksum.
std::span<const std::uint8_t> put_v4(std::uint8_t* b, std::uint16_t universe, std::size_t udp_length) {
    b[0] = 0x45;  // version 4, five words of header
    put_big(b + 2, static_cast<std::uint16_t>(v4_bytes + udp_length));
    put_big(b + 6, std::uint16_t{0x4000});  // never in pieces
    b[8] = hops;
    b[9] = protocol_udp;
    put_big(b + 12, source_v4);
    put_big(b + 16, e131_multicast(universe));
    put_big(b + 10, checksum(sum_words({b, v4_bytes})));
    return {b + 12, 8};
}

std::span<const std::uint8_t> put_v6(std::uint8_t* b, std::uint16_t universe, std::size_t udp_length) {
    b[0] = 0x60;  // version 6
    put_big(b + 4, static_cast<std::uint16_t>(udp_length));
    b[6] = protocol_udp;
    b[7] = hops;
    const Ipv6Bytes group = e131_multicast_v6(universe);
    std::copy(source_v6.begin(), source_v6.end(), b + 8);
    std::copy(group.begin(), group.end(), b + 24);
    return {b + 8, 32};
}

void put_udp(std::uint8_t* b, std::span<const std::uint8_t> addresses,
             std::span<const std::uint8_t> payload) {
    const auto length = static_cast<std::uint16_t>(udp_bytes + payload.size());
    put_big(b, e131_port);
    put_big(b + 2, e131_port);
    put_big(b + 4, length);
    std::copy(payload.begin(), payload.end(), b + udp_bytes);
    const std::uint32_t before = sum_words(addresses, std::uint32_t{protocol_udp} + length);
    const std::uint16_t sum = checksum(sum_words({b, length}, before));
    put_big(b + 6, sum == 0 ? std::uint16_t{0xffff} : sum);
}

class CaptureCarrier : public Carrier {
  public:
    CaptureCarrier(std::uint32_t refresh, IpVersions versions) : refresh_(refresh), versions_(versions) {
        append_little(bytes_, pcap_magic);
        append_little(bytes_, std::uint16_t{2});  // version 2.4
        append_little(bytes_, std::uint16_t{4});
        append_little(bytes_, std::uint64_t{0});  // time zone, accuracy: always 0
        append_little(bytes_, snapshot_bytes);
        append_little(bytes_, link_raw_ip);
    }
    Status open(const std::string& path) { return file_.open(path); }

    Status send(std::span<const Datagram> packets, std::uint64_t number) override {
        for (const Datagram& d : packets) {
            if (versions_.v4) append(d, number, v4_bytes, put_v4);
            if (versions_.v6) append(d, number, v6_bytes, put_v6);
        }
        return bytes_.size() < gathered_bytes ? Status() : write();
    }
    Status finish() override {
        if (auto s = write(); !s.ok()) return s;
        return file_.commit();
    }

  private:
    template <class PutHeader>
    void append(const Datagram& packet, std::uint64_t number, std::size_t header, PutHeader put_header) {
        const std::size_t udp_length = udp_bytes + packet.bytes.size(), length = header + udp_length;
        append_little(bytes_, static_cast<std::uint32_t>(number / refresh_));
        append_little(bytes_, static_cast<std::uint32_t>(number % refresh_ * 1000000 / refresh_));
        append_little(bytes_, static_cast<std::uint32_t>(length));  // kept
        append_little(bytes_, static_cast<std::uint32_t>(length));  // sent
        bytes_.resize(bytes_.size() + length);
        std::uint8_t* ip = bytes_.data() + bytes_.size() - length;
        put_udp(ip + header, put_header(ip, packet.universe, udp_length), packet.bytes);
    }
    Status write() {
        auto s = file_.write(as_text(bytes_));
        bytes_.clear();
        return s;
    }

    std::uint32_t refresh_;
    IpVersions versions_;
    FileWriter file_;
    Bytes bytes_;
};

}  // namespace

Result<std::unique_ptr<Carrier>> capture_carrier(const std::string& path, std::uint32_t refresh,
                                                 IpVersions versions) {
    auto carrier = std::make_unique<CaptureCarrier>(refresh, versions);
    if (auto s = carrier->open(path); !s.ok()) return s;
    return std::unique_ptr<Carrier>(std::move(carrier));
}

}  // namespace tallow::runtime
