#include "tests/support/recorder.hpp"

#include <arpa/inet.h>
#include <atomic>
#include <catch2/catch.hpp>
#include <ctime>
#include <mutex>
#include <net/if.h>
#include <poll.h>
#include <span>
#include <sys/socket.h>
#include <unistd.h>

#include "runtime/output/e131.hpp"
#include "tests/support/stage_network.hpp"

namespace tallow::test {
namespace {

constexpr std::size_t batch = 64, packet_bytes = 1500;

// Where things stand in a packet: E1.31, tables 4-1 (data), 4-2 (synchronization).
constexpr std::size_t root_vector = 21, cid = 22, framing_vector = 43, priority = 108, sequence = 111,
                      options = 112, universe = 113, first_slot = 126, sync_sequence = 44, sync_universe = 45;

std::uint16_t two_bytes(std::span<const std::uint8_t> bytes, std::size_t at) {
    return static_cast<std::uint16_t>(bytes[at] << 8 | bytes[at + 1]);
}

// False for what is neither data nor synchronization.
bool read_packet(std::span<const std::uint8_t> bytes, std::size_t slots_kept, Recorded& one) {
    if (bytes.size() < sync_universe + 4) return false;
    std::copy_n(bytes.begin() + cid, one.cid.size(), one.cid.begin());
    if (bytes[root_vector] == 8 && bytes[framing_vector] == 1) {
        one.synchronization = true;
        one.sequence = bytes[sync_sequence];
        one.universe = two_bytes(bytes, sync_universe);
        return true;
    }
    if (bytes[root_vector] != 4 || bytes[framing_vector] != 2 || bytes.size() < first_slot) return false;
    one.priority = bytes[priority];
    one.sequence = bytes[sequence];
    one.terminated = (bytes[options] & 0x40) != 0;
    one.universe = two_bytes(bytes, universe);
    const auto slots = bytes.subspan(first_slot);
    one.slots.assign(slots.begin(),
                     slots.begin() + static_cast<std::ptrdiff_t>(std::min(slots.size(), slots_kept)));
    return true;
}

std::int64_t taken_in(msghdr& message) {
    for (cmsghdr* c = CMSG_FIRSTHDR(&message); c != nullptr; c = CMSG_NXTHDR(&message, c)) {
        if (c->cmsg_level != SOL_SOCKET || c->cmsg_type != SCM_TIMESTAMPNS) continue;
        timespec when{};
        std::copy_n(CMSG_DATA(c), sizeof when, reinterpret_cast<unsigned char*>(&when));
        return when.tv_sec * std::int64_t{1000000000} + when.tv_nsec;
    }
    return 0;
}

}  // namespace

struct Recorder::Shared {
    std::atomic<bool> ends{false};
    mutable std::mutex mutex;
    std::vector<Recorded> heard;
};

Recorder::Recorder(const std::string& network, const std::string& interface,
                   const std::vector<std::uint16_t>& universes, std::size_t slots_kept)
    : slots_kept_(slots_kept), shared_(std::make_unique<Shared>()) {
    const InNetwork there(network);
    fd_ = ::socket(AF_INET, SOCK_DGRAM | SOCK_CLOEXEC, 0);
    const int on = 1, roomy = 256 << 20;
    ::setsockopt(fd_, SOL_SOCKET, SO_RCVBUFFORCE, &roomy, sizeof roomy);
    REQUIRE(::setsockopt(fd_, SOL_SOCKET, SO_TIMESTAMPNS, &on, sizeof on) == 0);
    sockaddr_in all{};
    all.sin_family = AF_INET;
    all.sin_port = htons(runtime::e131_port);
    REQUIRE(::bind(fd_, reinterpret_cast<const sockaddr*>(&all), sizeof all) == 0);
    for (const std::uint16_t u : universes) {
        ip_mreqn group{};
        group.imr_multiaddr.s_addr = htonl(runtime::e131_multicast(u));
        group.imr_ifindex = static_cast<int>(::if_nametoindex(interface.c_str()));
        REQUIRE(::setsockopt(fd_, IPPROTO_IP, IP_ADD_MEMBERSHIP, &group, sizeof group) == 0);
    }
    thread_ = std::thread([this] { listen(); });
}

Recorder::~Recorder() {
    shared_->ends = true;
    thread_.join();
    ::close(fd_);
}

std::vector<Recorded> Recorder::heard() const {
    const std::lock_guard lock(shared_->mutex);
    return shared_->heard;
}

std::size_t Recorder::count() const {
    const std::lock_guard lock(shared_->mutex);
    return shared_->heard.size();
}

void Recorder::listen() {
    std::vector<std::array<std::uint8_t, packet_bytes>> bytes(batch);
    std::vector<std::array<std::uint8_t, 64>> notes(batch);
    std::vector<sockaddr_in> from(batch);
    std::vector<iovec> pieces(batch);
    std::vector<mmsghdr> messages(batch);
    while (!shared_->ends) {
        for (std::size_t i = 0; i < batch; ++i) {
            pieces[i] = {bytes[i].data(), packet_bytes};
            messages[i].msg_hdr = {&from[i], sizeof from[i], &pieces[i], 1, notes[i].data(), 64, 0};
        }
        pollfd p{fd_, POLLIN, 0};
        if (::poll(&p, 1, 20) <= 0) continue;
        const int n = ::recvmmsg(fd_, messages.data(), batch, MSG_DONTWAIT, nullptr);
        const std::lock_guard lock(shared_->mutex);
        for (std::size_t i = 0; i < static_cast<std::size_t>(std::max(n, 0)); ++i) {
            Recorded one;
            if (!read_packet(std::span(bytes[i]).first(messages[i].msg_len), slots_kept_, one)) continue;
            one.ns = taken_in(messages[i].msg_hdr);
            char text[INET_ADDRSTRLEN]{};
            one.from = ::inet_ntop(AF_INET, &from[i].sin_addr, text, sizeof text);
            shared_->heard.push_back(std::move(one));
        }
    }
}

}  // namespace tallow::test
