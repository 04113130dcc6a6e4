#include "tests/bench/loop_source.hpp"

#include <arpa/inet.h>
#include <netinet/in.h>
#include <poll.h>
#include <sys/socket.h>
#include <unistd.h>

#include "tests/support/random.hpp"

namespace tallow::bench {

using namespace runtime;

LoopSource::LoopSource(std::uint16_t universes, std::uint32_t refresh)
    : refresh_(refresh), frames_(16, Bytes(universes * 512u)), slots_(universes) {
    test::Random random(1);
    for (Bytes& frame : frames_)
        for (std::uint8_t& slot : frame) slot = static_cast<std::uint8_t>(random.bits());
    for (std::uint16_t u = 1; u <= universes; ++u) universes_.push_back({u, 512});
}

bool LoopSource::frame(std::uint64_t n) {
    for (std::size_t u = 0; u < slots_.size(); ++u)
        slots_[u] = std::span(frames_[n % frames_.size()]).subspan(u * 512, 512);
    return true;
}

Result<Command> LoopSource::read_command(std::string_view) const {
    return Status::failure("nothing is obeyed");
}

Sink::Sink() : fd_(::socket(AF_INET, SOCK_DGRAM | SOCK_CLOEXEC, 0)) {
    sockaddr_in address{};
    address.sin_family = AF_INET;
    address.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
    socklen_t size = sizeof address;
    if (::bind(fd_, reinterpret_cast<const sockaddr*>(&address), size) == 0 &&
        ::getsockname(fd_, reinterpret_cast<sockaddr*>(&address), &size) == 0)
        port_ = ntohs(address.sin_port);
}

Sink::~Sink() {
    ::close(fd_);
}

bool Sink::receive() const {
    pollfd waits{fd_, POLLIN, 0};
    char packet[1500];
    return ::poll(&waits, 1, 10000) > 0 && ::recv(fd_, packet, sizeof packet, 0) > 0;
}

}  // namespace tallow::bench
