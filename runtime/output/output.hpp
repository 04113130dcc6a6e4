// Where frames go. A failure says what was tried and what the system said.
#pragma once

#include <cstdint>
#include <memory>
#include <span>
#include <string>
#include <vector>

#include "runtime/output/e131.hpp"
#include "runtime/roll/roll.hpp"
#include "runtime/status.hpp"

namespace tallow::runtime {

// One frame on its way out: its number, and the slots of each universe.
struct Frame {
    std::uint64_t number = 0;  // it stands at number / refresh seconds
    std::span<const std::span<const std::uint8_t>> slots;
};

// Told the frames in growing order, then the end once or more (E1.31 asks for three), then to finish.
class Output {
  public:
    virtual ~Output() = default;
    virtual Status frame(const Frame& frame) = 0;
    virtual Status end(std::uint64_t number) = 0;  // the stream ends; in the place of frame `number`
    virtual Status finish() = 0;                   // everything is on its way or on the disk after this
};

// A packet for one universe.
struct Datagram {
    std::uint16_t universe = 1;
    std::span<const std::uint8_t> bytes;
};

// What carries packets: a network or a file.
class Carrier {
  public:
    virtual ~Carrier() = default;
    // All packets of frame `number`.
    virtual Status send(std::span<const Datagram> packets, std::uint64_t number) = 0;
    virtual Status finish() = 0;
};

// Sends nothing.
std::unique_ptr<Output> null_output();
// Packs frames by E1.31 and hands them to a carrier.
std::unique_ptr<Output> e131_output(const E131Source& source, std::span<const Universe> universes,
                                    std::uint32_t refresh, std::unique_ptr<Carrier> carrier);

// UDP: to each host (a name or an IPv4 address, or several of them), or, where none is given, to each
// universe's multicast group through the interface (a name, an address, or "" for the system's choice).
struct UdpOptions {
    std::vector<std::string> hosts;
    std::string interface;
    std::uint16_t port = e131_port;
};
Result<std::unique_ptr<Carrier>> udp_carrier(const UdpOptions& options);

// A capture file in the classic pcap format (raw IPv4), as if each packet had gone to its multicast group
// from 192.0.2.1, at its frame's time in the show, counted from 1970. Replaces the file at finish().
Result<std::unique_ptr<Carrier>> capture_carrier(const std::string& path, std::uint32_t refresh);

}  // namespace tallow::runtime
