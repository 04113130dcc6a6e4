// OSC over UDP: commands from other machines. Who may send is decided by the address that is listened on, and
// by a secret where there is one.
#pragma once

#include <cstdint>
#include <memory>
#include <string>
#include <string_view>

#include "runtime/control/trigger.hpp"
#include "runtime/play/clock.hpp"
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

struct OscOptions {
    OscAddress address;
    std::string secret;  // empty: none; else the first or last argument of every message
};

// Listens. Its name tells the port that it got. `clock` must live as long.
Result<std::unique_ptr<Trigger>> open_osc(const OscOptions& options, Clock& clock);

// Whether two texts are the same, in a time that tells no more of `secret` than its length.
bool same_secret(std::string_view given, std::string_view secret);

}  // namespace tallow::runtime
