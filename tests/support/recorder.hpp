// A receiver of E1.31 that writes down all that comes.
#pragma once

#include <array>
#include <cstdint>
#include <memory>
#include <string>
#include <thread>
#include <vector>

#include "runtime/bytes.hpp"

namespace tallow::test {

struct Recorded {
    std::int64_t ns = 0;  // when the system took it in, by the system's clock
    std::string from;     // the sender's address
    std::array<std::uint8_t, 16> cid{};
    std::uint16_t universe = 0;  // of data, or of synchronization
    std::uint8_t sequence = 0, priority = 0;
    bool synchronization = false;  // a synchronization packet: without the rest
    bool terminated = false;
    runtime::Bytes slots;
};

class Recorder {
  public:
    // In a namespace ("" for where the test is), on the port of E1.31 of all its addresses, in the multicast
    // groups of `universes` on the interface. REQUIREs that the system lets it.
    Recorder(const std::string& network, const std::string& interface,
             const std::vector<std::uint16_t>& universes, std::size_t slots_kept = 512);
    ~Recorder();
    Recorder(const Recorder&) = delete;
    Recorder& operator=(const Recorder&) = delete;

    // All that has come.
    std::vector<Recorded> heard() const;
    std::size_t count() const;

  private:
    void listen();

    struct Shared;
    int fd_ = -1;
    std::size_t slots_kept_;
    std::unique_ptr<Shared> shared_;
    std::thread thread_;
};

}  // namespace tallow::test
