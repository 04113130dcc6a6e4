// The packets of E1.31: built once, then only their slots and sequence numbers change.
#pragma once

#include <array>
#include <cstdint>
#include <span>
#include <vector>

#include "runtime/bytes.hpp"
#include "runtime/output/e131.hpp"

namespace tallow::runtime {

// The data packet of one universe, always with all 512 slots.
class E131Packet {
  public:
    static constexpr std::size_t size = 638;
    E131Packet(const E131Source& source, std::uint16_t universe);
    // Takes the levels, the slots past them staying 0; whether any differs from the packet's.
    bool take(std::span<const std::uint8_t> slots);
    // Numbers the packet as the next one of its universe; `last` sets the bit that ends the stream. The bytes
    // to send.
    std::span<const std::uint8_t, size> next(bool last = false);
    std::uint16_t universe() const { return universe_; }

  private:
    std::array<std::uint8_t, size> bytes_{};
    std::uint16_t universe_;
    std::uint8_t options_;
    std::uint8_t sequence_ = 0;
};

// The packet that lets receivers show what they were sent (E1.31, 6.3). The source's synchronization is not
// 0.
class E131SyncPacket {
  public:
    static constexpr std::size_t size = 49;
    explicit E131SyncPacket(const E131Source& source);
    std::span<const std::uint8_t, size> next();

  private:
    std::array<std::uint8_t, size> bytes_{};
    std::uint8_t sequence_ = 0;
};

// The packets that tell which universes a source sends, 512 to a page (E1.31, 8). At most 256 pages.
std::vector<Bytes> e131_discovery(const E131Source& source, std::vector<std::uint16_t> universes);

// Which frames of a universe are sent: every one that changes, three more, and while nothing changes one
// every 800..1000 ms (E1.31, 6.6.2). Counted in frames, so that the same show gives the same packets.
class E131Pace {
  public:
    explicit E131Pace(std::uint32_t refresh) : rest_((refresh * 4 + 4) / 5) {}
    // Whether frame n, n growing, is to be sent.
    bool due(std::uint64_t n, bool changed) {
        if (changed || first_) more_ = 1 + repeats;
        const bool now = more_ > 0 || n - sent_ >= rest_;
        if (now) sent_ = n;
        if (more_ > 0) --more_;
        first_ = false;
        return now;
    }
    // The next frame counts as a change: nobody knows what arrived before it.
    void restart() { first_ = true; }

  private:
    static constexpr unsigned repeats = 3;
    std::uint64_t rest_;  // frames in 800 ms, rounded up
    std::uint64_t sent_ = 0;
    unsigned more_ = 0;
    bool first_ = true;
};

}  // namespace tallow::runtime
