// OSC over UDP: commands from other machines. Who may send is decided by the address that is listened on, and
// by a secret where there is one.
#pragma once

#include <cstdint>
#include <memory>
#include <string>
#include <string_view>

#include "runtime/control/osc_socket.hpp"
#include "runtime/control/trigger.hpp"
#include "runtime/play/clock.hpp"
#include "runtime/status.hpp"

namespace tallow::runtime {

struct OscOptions {
    OscAddress address;
    std::string secret;  // empty: none; else the first or last argument of every message
};

// Listens. Its name tells the port that it got. `clock` must live as long.
Result<std::unique_ptr<Trigger>> open_osc(const OscOptions& options, Clock& clock);

}  // namespace tallow::runtime
