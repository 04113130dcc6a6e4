// What people write of E1.31 on a command line.
#pragma once

#include <string_view>
#include <vector>

#include "runtime/output/carrier.hpp"
#include "runtime/output/e131_stream.hpp"
#include "runtime/status.hpp"

namespace tallow::runtime {

// "1..400,500": in any order, overlapping or not.
Result<std::vector<UniverseRange>> parse_universes(std::string_view text);

// "node-3", "10.0.0.7", "fd00::7", "node-3:5570", "10.0.0.7:5570", "[fd00::7]:5570". Looks no name up.
Result<Host> parse_host(std::string_view text, std::uint16_t port = e131_port);

// "4", "6", "both".
Result<IpVersions> parse_ip_versions(std::string_view text);

}  // namespace tallow::runtime
