// Packets into a capture file: classic pcap (draft-ietf-opsawg-pcap), IPv4 (RFC 791), UDP (RFC 768).
#include <algorithm>
#include <array>

#include "runtime/bytes.hpp"
#include "runtime/files.hpp"
#include "runtime/output/output.hpp"

namespace tallow::runtime {
namespace {

constexpr std::uint32_t pcap_magic = 0xa1b2c3d4, snapshot_bytes = 65535, link_raw_ip = 101;
constexpr std::uint32_t source_address = 0xc0000201;  // 192.0.2.1, for documentation (RFC 5737)
constexpr std::size_t ip_bytes = 20, udp_bytes = 8;
constexpr std::size_t gathered_bytes = std::size_t{1} << 20;
constexpr std::uint8_t protocol_udp = 17;

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

void put_ip(std::uint8_t* b, std::uint32_t destination, std::size_t length) {
    b[0] = 0x45;  // version 4, five words of header
    put_big(b + 2, static_cast<std::uint16_t>(length));
    put_big(b + 6, std::uint16_t{0x4000});  // never in pieces
    b[8] = 1;                               // one hop, as multicast goes out by default
    b[9] = protocol_udp;
    put_big(b + 12, source_address);
    put_big(b + 16, destination);
    put_big(b + 10, checksum(sum_words({b, ip_bytes})));
}

// `ip` is the header before: its addresses are part of the checksum.
void put_udp(std::uint8_t* b, const std::uint8_t* ip, std::span<const std::uint8_t> payload) {
    const auto length = static_cast<std::uint16_t>(udp_bytes + payload.size());
    put_big(b, e131_port);
    put_big(b + 2, e131_port);
    put_big(b + 4, length);
    std::copy(payload.begin(), payload.end(), b + udp_bytes);
    const std::uint32_t addresses = sum_words({ip + 12, 8}, std::uint32_t{protocol_udp} + length);
    const std::uint16_t sum = checksum(sum_words({b, length}, addresses));
    put_big(b + 6, sum == 0 ? std::uint16_t{0xffff} : sum);
}

class CaptureCarrier : public Carrier {
  public:
    explicit CaptureCarrier(std::uint32_t refresh) : refresh_(refresh) {
        append_little(bytes_, pcap_magic);
        append_little(bytes_, std::uint16_t{2});  // version 2.4
        append_little(bytes_, std::uint16_t{4});
        append_little(bytes_, std::uint64_t{0});  // time zone, accuracy: always 0
        append_little(bytes_, snapshot_bytes);
        append_little(bytes_, link_raw_ip);
    }
    Status open(const std::string& path) { return file_.open(path); }

    Status send(std::span<const Datagram> packets, std::uint64_t number) override {
        for (const Datagram& d : packets) append(d, number);
        return bytes_.size() < gathered_bytes ? Status() : write();
    }
    Status finish() override {
        if (auto s = write(); !s.ok()) return s;
        return file_.commit();
    }

  private:
    void append(const Datagram& packet, std::uint64_t number) {
        const std::size_t length = ip_bytes + udp_bytes + packet.bytes.size();
        append_little(bytes_, static_cast<std::uint32_t>(number / refresh_));
        append_little(bytes_, static_cast<std::uint32_t>(number % refresh_ * 1000000 / refresh_));
        append_little(bytes_, static_cast<std::uint32_t>(length));  // kept
        append_little(bytes_, static_cast<std::uint32_t>(length));  // sent
        bytes_.resize(bytes_.size() + length);
        std::uint8_t* ip = bytes_.data() + bytes_.size() - length;
        put_ip(ip, e131_multicast(packet.universe), length);
        put_udp(ip + ip_bytes, ip, packet.bytes);
    }
    Status write() {
        auto s = file_.write(as_text(bytes_));
        bytes_.clear();
        return s;
    }

    std::uint32_t refresh_;
    FileWriter file_;
    Bytes bytes_;
};

}  // namespace

Result<std::unique_ptr<Carrier>> capture_carrier(const std::string& path, std::uint32_t refresh) {
    auto carrier = std::make_unique<CaptureCarrier>(refresh);
    if (auto s = carrier->open(path); !s.ok()) return s;
    return std::unique_ptr<Carrier>(std::move(carrier));
}

}  // namespace tallow::runtime
