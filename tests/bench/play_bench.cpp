// The player's packets against bare sendmmsg of the same, and its clock against a bare one.
#include <algorithm>
#include <arpa/inet.h>
#include <chrono>
#include <netinet/in.h>
#include <sched.h>
#include <sys/socket.h>
#include <thread>
#include <unistd.h>

#include "runtime/output/e131_output.hpp"
#include "runtime/play/player.hpp"
#include "runtime/session/ways_out.hpp"
#include "tests/bench/bench.hpp"
#include "tests/bench/hold.hpp"
#include "tests/bench/loop_source.hpp"

namespace tallow::bench {
namespace {

using namespace runtime;

constexpr std::uint16_t universe_count = 8, many_universes = 2000;
constexpr std::uint64_t sent_frames = 20000, seconds_held = 10;
constexpr std::uint32_t refresh = 40;

// While it lives this thread, and those that it starts, have one core between them.
class OneCore {
  public:
    OneCore() {
        ::sched_getaffinity(0, sizeof before_, &before_);
        cpu_set_t one;
        CPU_ZERO(&one);
        CPU_SET(::sched_getcpu(), &one);
        ::sched_setaffinity(0, sizeof one, &one);
    }
    ~OneCore() { ::sched_setaffinity(0, sizeof before_, &before_); }
    OneCore(const OneCore&) = delete;
    OneCore& operator=(const OneCore&) = delete;

  private:
    cpu_set_t before_{};
};

double seconds_since(std::chrono::steady_clock::time_point begin) {
    return std::chrono::duration<double>(std::chrono::steady_clock::now() - begin).count();
}

// Lets the thread of an output keep up, as time does in a show.
class PatientOutput : public Output {
  public:
    explicit PatientOutput(OwnThread thread) : thread_(std::move(thread)) {}
    Status frame(const Frame& frame) override {
        if (++offered_ % FrameRing::frames == 0)
            while (thread_.looked_after->health().sent + 1 < offered_) ::sched_yield();
        return thread_.output->frame(frame);
    }
    Status end(std::uint64_t number) override { return thread_.output->end(number); }
    Status finish() override { return thread_.output->finish(); }

  private:
    OwnThread thread_;
    std::uint64_t offered_ = 0;
};

std::unique_ptr<Output> output_to(const Sink& sink, const Source& source, bool on_thread) {
    E131Options options;
    options.hosts = {{"127.0.0.1", sink.port()}};
    auto e131 = e131_outputs(options, source.universes(), refresh);
    if (!e131.ok()) return nullptr;
    if (on_thread) {
        auto thread = on_own_thread({std::move((*e131)[0]), {}}, source.universes());
        return thread.ok() ? std::make_unique<PatientOutput>(std::move(*thread)) : nullptr;
    }
    auto opened = (*e131)[0].open();
    return opened.ok() ? std::move(*opened) : nullptr;
}

double player_packets_per_second(const Sink& sink, bool on_thread) {
    Piece piece;
    piece.source = std::make_unique<LoopSource>(universe_count, refresh);
    piece.outputs.push_back(output_to(sink, *piece.source, on_thread));
    if (!piece.outputs[0]) return 0;
    const auto clock = system_clock();
    Intercom intercom;
    PlayOptions how;
    how.until = sent_frames;
    how.fast = true;
    const auto begin = std::chrono::steady_clock::now();
    const auto counts = play(piece, *clock, intercom, how);
    return counts.ok() ? universe_count * static_cast<double>(counts->frames) / seconds_since(begin) : 0;
}

double bare_packets_per_second(const Sink& sink) {
    const int fd = ::socket(AF_INET, SOCK_DGRAM, 0);
    std::vector<Bytes> packets(universe_count, Bytes(E131Packet::size, 1));
    std::vector<iovec> pieces(universe_count);
    std::vector<mmsghdr> messages(universe_count);
    sockaddr_in to{};
    to.sin_family = AF_INET;
    to.sin_port = htons(sink.port());
    to.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
    for (std::size_t u = 0; u < universe_count; ++u) {
        pieces[u] = {packets[u].data(), packets[u].size()};
        messages[u].msg_hdr = {&to, sizeof to, &pieces[u], 1, nullptr, 0, 0};
    }
    const auto begin = std::chrono::steady_clock::now();
    for (std::size_t n = 0; n < sent_frames; ++n) ::sendmmsg(fd, messages.data(), universe_count, 0);
    const double rate = universe_count * static_cast<double>(sent_frames) / seconds_since(begin);
    ::close(fd);
    return rate;
}

void add_sending(std::vector<Row>& rows) {
    const Sink sink;
    const OneCore one;
    double direct = 0, on_thread = 0, bare = 0;  // the best of three, in turn
    for (int i = 0; i < 3; ++i) {
        direct = std::max(direct, player_packets_per_second(sink, false));
        on_thread = std::max(on_thread, player_packets_per_second(sink, true));
        bare = std::max(bare, bare_packets_per_second(sink));
    }
    rows.push_back({"player: send 8 universes, all slots changing", "packets/s", direct, bare,
                    Row::Goal::at_least, 0.9});
    rows.push_back({"player: the same by an output's own thread", "packets/s", on_thread, bare,
                    Row::Goal::at_least, 0.9});
}

void add_lateness(std::vector<Row>& rows) {
    const Held few = hold(universe_count, refresh, seconds_held);
    rows.push_back({"player: lateness, 99th percentile", "us",
                    static_cast<double>(percentile(few.late, 99)) / 1e3,
                    static_cast<double>(percentile(few.bare, 99)) / 1e3, Row::Goal::at_most, 1.5});
    // In time is a frame that went out, and no more than late_ns late.
    const Held many = hold(many_universes, refresh, seconds_held);
    const std::uint64_t lost = many.counts.late + many.dropped;
    rows.push_back({"player: 2 000 universes at 40 Hz, frames in time", "frames",
                    static_cast<double>(many.counts.frames - std::min(lost, many.counts.frames)),
                    static_cast<double>(seconds_held * refresh), Row::Goal::at_least, 0.99});
}

}  // namespace

std::vector<Row> play_rows() {
    std::vector<Row> rows;
    add_sending(rows);
    add_lateness(rows);
    return rows;
}

}  // namespace tallow::bench
