// Sockets of this machine that packets come to.
#pragma once

#include <cstdint>
#include <optional>
#include <string>

#include "runtime/bytes.hpp"
#include "runtime/output/carrier.hpp"

namespace tallow::test {

class Receiver {
  public:
    // Bound to an address of either version, and to a port: 0 for one that is free. REQUIREs that it can be.
    explicit Receiver(const std::string& address = "127.0.0.1", std::uint16_t port = 0);
    ~Receiver();
    Receiver(const Receiver&) = delete;
    Receiver& operator=(const Receiver&) = delete;

    // Joins a universe's multicast group on an interface; false where the system does not let it.
    bool join(std::uint16_t universe, const std::string& interface);
    // The next packet that has come, waiting a moment for it; empty when there is none.
    runtime::Bytes next();
    std::uint16_t port() const { return port_; }

  private:
    int fd_;
    bool v4_;
    std::uint16_t port_ = 0;
};

}  // namespace tallow::test
