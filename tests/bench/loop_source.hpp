// A source of frames in which every slot changes, made before, and a place to send them to.
#pragma once

#include <memory>
#include <span>
#include <string>
#include <vector>

#include "runtime/bytes.hpp"
#include "runtime/play/source.hpp"

namespace tallow::bench {

class LoopSource : public runtime::Source {
  public:
    LoopSource(std::uint16_t universes, std::uint32_t refresh);

    std::uint32_t refresh() const override { return refresh_; }
    std::span<const runtime::Universe> universes() const override { return universes_; }
    void prepare(std::uint64_t) override {}
    bool frame(std::uint64_t n) override;
    std::span<const std::span<const std::uint8_t>> slots() const override { return slots_; }
    void obey(const runtime::Command&, runtime::Tick) override {}
    std::span<const runtime::Event> events() const override { return {}; }
    bool at_rest() const override { return false; }
    std::string damage() const override { return ""; }
    runtime::Result<runtime::Command> read_command(std::string_view) const override;
    std::string describe(const runtime::Event&) const override { return ""; }

  private:
    const std::uint32_t refresh_;
    std::vector<runtime::Bytes> frames_;
    std::vector<runtime::Universe> universes_;
    std::vector<std::span<const std::uint8_t>> slots_;
};

// A port of loopback. What nobody receives is thrown away by the system once its buffer is full.
class Sink {
  public:
    Sink();
    ~Sink();
    Sink(const Sink&) = delete;
    Sink& operator=(const Sink&) = delete;
    std::uint16_t port() const { return port_; }
    // Waits for a packet, ten seconds at the most; false when none came.
    bool receive() const;

  private:
    int fd_;
    std::uint16_t port_ = 0;
};

}  // namespace tallow::bench
