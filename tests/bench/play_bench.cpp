// The player's packets against bare sendmmsg of the same, and its clock against a bare one.
#include <algorithm>
#include <arpa/inet.h>
#include <fmt/format.h>
#include <netinet/in.h>
#include <sched.h>
#include <semaphore>
#include <sys/socket.h>
#include <thread>
#include <time.h>
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

constexpr std::uint16_t few_universes = 8, more_universes = 64, many_universes = 2000;
constexpr std::uint64_t packets_sent = 160000, seconds_held = 10;
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

// Seconds of a processor that all threads have used so far: other work on the machine does not count.
double used() {
    timespec t{};
    ::clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &t);
    return static_cast<double>(t.tv_sec) + static_cast<double>(t.tv_nsec) / 1e9;
}

// Lets the thread of an output keep up, as time does in a show.
class PatientOutput : public Output {
  public:
    explicit PatientOutput(OwnThread thread) : thread_(std::move(thread)) {}
    Status frame(const Frame& frame) override {
        // The frame that went out last keeps its place until another comes.
        if (offered_++ % (FrameRing::frames - 1) == 0) wait();
        return thread_.output->frame(frame);
    }
    Status end(std::uint64_t number) override { return thread_.output->end(number); }
    Status finish() override { return thread_.output->finish(); }

  private:
    void wait() const {
        for (;; ::sched_yield()) {
            const OutputHealth health = thread_.looked_after->health();
            const bool fails = health.state == OutputHealth::State::down;
            if (fails || health.sent + health.dropped + 1 >= offered_) return;
        }
    }

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

double player_packets_per_second(const Sink& sink, std::uint16_t universes, bool on_thread) {
    Piece piece;
    piece.source = std::make_unique<LoopSource>(universes, refresh);
    piece.outputs.push_back(output_to(sink, *piece.source, on_thread));
    if (!piece.outputs[0]) return 0;
    const auto clock = system_clock();
    Intercom intercom;
    PlayOptions how;
    how.until = packets_sent / universes;
    how.fast = true;
    const double begin = used();
    const auto counts = play(piece, *clock, intercom, how);
    return counts.ok() ? universes * static_cast<double>(counts->frames) / (used() - begin) : 0;
}

// Packets as large as the player's, and the call of the system that sends a frame of them.
class BareFrame {
  public:
    BareFrame(const Sink& sink, std::uint16_t universes)
        : packets_(universes, Bytes(E131Packet::size, 1)), pieces_(universes), messages_(universes) {
        to_.sin_family = AF_INET;
        to_.sin_port = htons(sink.port());
        to_.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
        for (std::size_t u = 0; u < universes; ++u) {
            pieces_[u] = {packets_[u].data(), packets_[u].size()};
            messages_[u].msg_hdr = {&to_, sizeof to_, &pieces_[u], 1, nullptr, 0, 0};
        }
    }
    ~BareFrame() { ::close(socket_); }
    BareFrame(const BareFrame&) = delete;
    BareFrame& operator=(const BareFrame&) = delete;
    void send() { ::sendmmsg(socket_, messages_.data(), static_cast<unsigned>(messages_.size()), 0); }

  private:
    const int socket_ = ::socket(AF_INET, SOCK_DGRAM, 0);
    sockaddr_in to_{};
    std::vector<Bytes> packets_;
    std::vector<iovec> pieces_;
    std::vector<mmsghdr> messages_;
};

double bare_packets_per_second(const Sink& sink, std::uint16_t universes) {
    BareFrame frame(sink, universes);
    const double begin = used();
    for (std::size_t n = 0; n < packets_sent / universes; ++n) frame.send();
    return static_cast<double>(packets_sent) / (used() - begin);
}

// The same by a thread that is woken for each frame: what it takes to keep the calls out of another one.
double bare_woken_packets_per_second(const Sink& sink, std::uint16_t universes) {
    BareFrame frame(sink, universes);
    const std::size_t frames = packets_sent / universes;
    std::counting_semaphore<> work(0), room(FrameRing::frames - 1);
    const double begin = used();
    std::thread sender([&] {
        for (std::size_t n = 0; n < frames; ++n) {
            work.acquire();
            frame.send();
            room.release();
        }
    });
    for (std::size_t n = 0; n < frames; ++n) {
        room.acquire();
        work.release();
    }
    sender.join();
    return static_cast<double>(packets_sent) / (used() - begin);
}

void add_sending(std::vector<Row>& rows, std::uint16_t universes) {
    const Sink sink;
    const OneCore one;
    double direct = 0, on_thread = 0, bare = 0, woken = 0;  // the best of three, in turn
    for (int i = 0; i < 3; ++i) {
        direct = std::max(direct, player_packets_per_second(sink, universes, false));
        bare = std::max(bare, bare_packets_per_second(sink, universes));
        on_thread = std::max(on_thread, player_packets_per_second(sink, universes, true));
        woken = std::max(woken, bare_woken_packets_per_second(sink, universes));
    }
    rows.push_back({fmt::format("player: send {} universes, all slots changing", universes), "packets/s",
                    direct, bare, Row::Goal::at_least, 0.9});
    // Against a bare thread, as waking one costs some microseconds, however large the frame is. The goal is
    // our own.
    rows.push_back({fmt::format("player: {} universes by an output's own thread", universes), "packets/s",
                    on_thread, woken, Row::Goal::at_least, 0.75});
}

void add_lateness(std::vector<Row>& rows) {
    const Held few = hold(few_universes, refresh, seconds_held);
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
    add_sending(rows, few_universes);
    add_sending(rows, more_universes);
    add_lateness(rows);
    return rows;
}

}  // namespace tallow::bench
