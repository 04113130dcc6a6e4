// What an OSC message asks, in the words of an operator.
#pragma once

#include <string>

#include "runtime/control/osc_packet.hpp"
#include "runtime/status.hpp"

namespace tallow::runtime {

// The words of command.hpp for a message of TRIGGERS.md; empty for a button that is let go of. Fails for
// other addresses and arguments, and says what there is.
Result<std::string> osc_words(const OscMessage& message);

}  // namespace tallow::runtime
