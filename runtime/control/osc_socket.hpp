// A UDP socket that OSC is heard on, and answered from: bound to one address, so that who may send is decided
// there, and by a secret where there is one.
#pragma once

#include <array>
#include <cstdint>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "runtime/control/osc_packet.hpp"
#include "runtime/output/udp_address.hpp"
#include "runtime/status.hpp"

namespace tallow::runtime {

struct OscAddress {
    std::string host = "127.0.0.1";  // IPv4 or IPv6, in digits
    std::uint16_t port = 0;          // 0: one that is free
    bool operator==(const OscAddress&) const = default;
};

// `7700` (this machine alone), `192.0.2.5:7700`, `0.0.0.0:7700` (IPv4 from everywhere), `[::1]:7700`,
// `[::]:7700` (IPv6 and IPv4 from everywhere).
Result<OscAddress> parse_osc_address(std::string_view text);

class OscSocket {
  public:
    // `secret`: empty for none; else the first or last argument of every message.
    static Result<std::unique_ptr<OscSocket>> open(const OscAddress& address, std::string secret);
    ~OscSocket();
    OscSocket(const OscSocket&) = delete;
    OscSocket& operator=(const OscSocket&) = delete;

    int descriptor() const { return fd_; }
    const std::string& address() const { return address_; }  // "127.0.0.1:7700", with the port that it got

    struct Packet {
        SocketAddress address;
        std::string from;  // the same, "192.0.2.7:9000"
        // With the secret taken off. Fails where the packet is broken, or a message of it without the secret.
        Result<std::vector<OscMessage>> messages;
    };
    // The next packet; nothing when there is none. Never waits.
    std::optional<Packet> receive();

    // The bytes of a message, with the secret behind its arguments where there is one.
    Result<Bytes> bytes(OscMessage message) const;
    // Never waits: what the system has no room for is lost. False, and errno, where it cannot be sent.
    bool send(std::span<const std::uint8_t> packet, const SocketAddress& to) const;

  private:
    OscSocket(int fd, std::string address, std::string secret)
        : fd_(fd), address_(std::move(address)), secret_(std::move(secret)) {}
    bool admits(std::vector<OscMessage>& messages) const;

    int fd_;
    std::string address_, secret_;
    std::array<std::uint8_t, osc_packet_bytes + 1> packet_{};  // one more: then it is too long
};

// Whether two texts are the same, in a time that tells no more of `secret` than its length.
bool same_secret(std::string_view given, std::string_view secret);

}  // namespace tallow::runtime
