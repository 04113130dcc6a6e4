#include "runtime/control/midi_inbox.hpp"

#include <algorithm>
#include <cerrno>
#include <cstring>
#include <fcntl.h>
#include <fmt/format.h>
#include <unistd.h>

namespace tallow::runtime {
namespace {

// What goes through the pipe: no more than POSIX has written whole or not at all (PIPE_BUF is 512 at least).
struct Parcel {
    std::uint64_t ns = 0;
    std::size_t size = 0;
    std::array<std::uint8_t, midi_message_bytes> bytes{};
};
static_assert(sizeof(Parcel) <= 512);

}  // namespace

MidiInbox::~MidiInbox() {
    for (const int fd : pipe_)
        if (fd >= 0) ::close(fd);
}

Status MidiInbox::open() {
    if (::pipe2(pipe_.data(), O_CLOEXEC | O_NONBLOCK) == 0) return {};
    return Status::failure(
        fmt::format("cannot open a pipe for MIDI: {}; check the limits on open files", std::strerror(errno)));
}

void MidiInbox::put(std::uint64_t ns, std::span<const std::uint8_t> message) const {
    Parcel parcel{ns, message.size(), {}};
    if (message.size() > parcel.bytes.size()) return;
    std::copy(message.begin(), message.end(), parcel.bytes.begin());
    static_cast<void>(!::write(pipe_[1], &parcel, sizeof parcel));
}

void MidiInbox::read(MidiReader& reader, std::string_view from, Listener& listener) {
    constexpr int parcels_at_once = 256;
    Parcel parcel;
    for (int n = 0; n < parcels_at_once; ++n) {
        const ssize_t got = ::read(pipe_[0], &parcel, sizeof parcel);
        if (got < 0 && errno == EINTR) continue;
        if (got != ssize_t{sizeof parcel}) return;
        reader.read(parcel.ns, {parcel.bytes.data(), parcel.size}, from, listener);
    }
}

}  // namespace tallow::runtime
