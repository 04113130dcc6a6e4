// Many packets handed to the system, as many to a call as it takes.
#pragma once

#include <cstddef>
#include <span>
#include <sys/socket.h>

namespace tallow::runtime {

// The calls of the system; tests put their own in.
class PacketPort {
  public:
    virtual ~PacketPort() = default;
    // As sendmmsg: how many of the first went out; -1, and errno, when the first of them did not.
    virtual int send(std::span<mmsghdr> messages) = 0;
    // Waits a little while, for the system to have room for more; false when it has been waited for too
    // long since the last begin().
    virtual bool wait_for_room() = 0;
    virtual void begin() = 0;
};

// What did not go out.
struct Unsent {
    std::size_t count = 0;
    std::size_t first = 0;  // the first one's index, and
    int error = 0;          // what the system said of it
};

// Sends all that can be sent, in their order. A message that is refused is left out; when there is no room
// for too long, the rest is.
Unsent send_batch(PacketPort& port, std::span<mmsghdr> messages);

}  // namespace tallow::runtime
