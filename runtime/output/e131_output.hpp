// E1.31 as people choose it, and the outputs that come of it.
#pragma once

#include <memory>
#include <span>
#include <string>
#include <vector>

#include "runtime/output/carrier.hpp"
#include "runtime/output/e131.hpp"
#include "runtime/output/e131_stream.hpp"
#include "runtime/output/output.hpp"

namespace tallow::runtime {

struct E131Options {
    E131Source source;
    E131Selection selection;  // discovery goes to multicast groups alone, never to `hosts`
    IpVersions versions;      // for multicast and captures, and to look names of hosts up
    // Destinations. A receiver that is reached by several of them gets the stream by each.
    bool multicast = false;
    std::vector<std::string>
        interfaces;                  // multicast goes through each: names or addresses; empty: the system's
    std::uint8_t hops = 1;           // of multicast, as MulticastOptions has it
    std::uint16_t port = e131_port;  // for multicast, and for hosts that name none
    std::vector<Host> hosts;
};

// An output for each destination, so that each can fail and come back by itself: to each host, and by
// multicast over each version through each interface. Opening one again is quick, and its packets go on
// with their numbers; only one of what it opened may live at a time. Looks nothing up and opens nothing yet:
// fails only on options that cannot be, such as universes that are not in the show.
Result<std::vector<NamedOutput>> e131_outputs(const E131Options& options, std::span<const Universe> universes,
                                              std::uint32_t refresh);

// The same into a capture file, as multicast; `multicast`, interfaces, hops, port and hosts play no part.
Result<NamedOutput> e131_capture(const E131Options& options, const std::string& path,
                                 std::span<const Universe> universes, std::uint32_t refresh);

// A stream over a carrier that is open, from a whole frame on.
std::unique_ptr<Output> e131_output(std::shared_ptr<E131Stream> stream, std::unique_ptr<Carrier> carrier);

}  // namespace tallow::runtime
