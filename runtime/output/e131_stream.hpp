// What a source of E1.31 sends, whatever carries it. It outlives a carrier that fails, so that the sequence
// numbers go on when another one takes over.
#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <vector>

#include "runtime/output/carrier.hpp"
#include "runtime/output/e131_packets.hpp"
#include "runtime/output/output.hpp"

namespace tallow::runtime {

// Universes from..to, both of them too.
struct UniverseRange {
    std::uint16_t from = 1, to = 1;
    bool holds(std::uint16_t universe) const { return from <= universe && universe <= to; }
    bool operator==(const UniverseRange&) const = default;
};

// What of a show is sent.
struct E131Selection {
    std::vector<UniverseRange> universes;  // those of the show that one of these holds; empty: all
    bool discovery = true;                 // say which universes are sent
};

class E131Stream {
  public:
    // `universes` are those of each frame, in its order.
    E131Stream(const E131Source& source, std::span<const Universe> universes, std::uint32_t refresh,
               const E131Selection& selection = {});

    // Another carrier takes over: the next frame is sent whole, as the first one is.
    void restart();
    // The packets for a frame, frames in growing order: the data that is due; a synchronization packet where
    // receivers wait for one and data was due; and every ten seconds of the show, from the first frame on,
    // the universes that are sent. They stand until the next call. Allocates nothing.
    std::span<const Datagram> frame(const Frame& frame);
    // The last packets of all universes. No synchronization: what they hold is not shown (E1.31, 6.2.6).
    std::span<const Datagram> end();

    std::size_t universes() const { return parts_.size(); }

  private:
    struct Part {
        std::size_t index;  // among a frame's universes
        E131Packet packet;
        E131Pace pace;
    };
    void add_discovery(std::uint64_t number);

    std::vector<Part> parts_;
    std::uint16_t synchronization_;
    std::optional<E131SyncPacket> sync_;
    std::vector<Bytes> discovery_;  // its pages
    std::uint64_t discovery_frames_;
    std::uint64_t discovered_ = 0;
    bool first_ = true;
    std::vector<Datagram> due_;
};

}  // namespace tallow::runtime
