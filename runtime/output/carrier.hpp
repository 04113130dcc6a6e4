// What carries packets: a network or a file.
#pragma once

#include <cstdint>
#include <memory>
#include <span>
#include <string>

#include "runtime/output/e131.hpp"
#include "runtime/status.hpp"

namespace tallow::runtime {

// A packet, and the universe to whose multicast group it belongs.
struct Datagram {
    std::uint16_t universe = 1;
    std::span<const std::uint8_t> bytes;
};

class Carrier {
  public:
    virtual ~Carrier() = default;
    // All packets of frame `number`, in their order. One that fails keeps none from being sent.
    virtual Status send(std::span<const Datagram> packets, std::uint64_t number) = 0;
    virtual Status finish() = 0;
};

enum class IpVersion : std::uint8_t { v4, v6 };

struct IpVersions {
    bool v4 = true, v6 = false;
};

// A host by its name or address, and a port.
struct Host {
    std::string name;
    std::uint16_t port = e131_port;
};

// UDP to a host. A name is looked up among the versions, an address is taken as it stands; with % and an
// interface behind it where it is local to a link.
Result<std::unique_ptr<Carrier>> unicast_carrier(const Host& host, IpVersions versions);

struct MulticastOptions {
    IpVersion version = IpVersion::v4;
    std::string interface;  // its name, an address of it, or "" for the system's choice
    std::uint8_t hops = 1;  // networks that a packet may cross: 1 is the one it was sent in
    std::uint16_t port = e131_port;
};
// UDP to the multicast group of each packet's universe. Receivers on the same machine hear it too. A cable
// that is pulled is no failure to the system, and so none here; an interface that is down or gone is.
Result<std::unique_ptr<Carrier>> multicast_carrier(const MulticastOptions& options);

// A capture file in the classic pcap format (raw IP), as if each packet had gone to its multicast group, by
// each of the versions, from 192.0.2.1 or 2001:db8::1, at its frame's time in the show, counted from 1970.
// Replaces the file at finish().
Result<std::unique_ptr<Carrier>> capture_carrier(const std::string& path, std::uint32_t refresh,
                                                 IpVersions versions);

}  // namespace tallow::runtime
