#include "runtime/output/batch.hpp"

#include <cerrno>

namespace tallow::runtime {
namespace {

// The socket's own room is used up, or that of the interface.
bool no_room(int error) {
    return error == EAGAIN || error == EWOULDBLOCK || error == ENOBUFS;
}

}  // namespace

Unsent send_batch(PacketPort& port, std::span<mmsghdr> messages) {
    Unsent unsent;
    port.begin();
    for (std::size_t at = 0; at < messages.size();) {
        const int sent = port.send(messages.subspan(at));
        if (sent >= 0) {
            at += static_cast<std::size_t>(sent);
            continue;
        }
        const int error = errno;
        if (error == EINTR || (no_room(error) && port.wait_for_room())) continue;
        const std::size_t left_out = no_room(error) ? messages.size() - at : 1;
        if (unsent.count == 0) unsent = {.count = 0, .first = at, .error = error};
        unsent.count += left_out;
        at += left_out;
    }
    return unsent;
}

}  // namespace tallow::runtime
