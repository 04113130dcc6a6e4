#include <algorithm>
#include <arpa/inet.h>
#include <chrono>
#include <netinet/in.h>
#include <sys/socket.h>
#include <thread>
#include <time.h>
#include <unistd.h>

#include "runtime/output/e131_output.hpp"
#include "runtime/play/player.hpp"
#include "tests/bench/bench.hpp"
#include "tests/bench/mixed_frames.hpp"

namespace tallow::bench {
namespace {

using namespace runtime;

constexpr std::size_t universe_count = 8, sent_frames = 20000;
constexpr std::uint32_t refresh = 40;
constexpr std::uint64_t late_frames = 400;  // ten seconds

// Frames in which every slot changes, made before.
std::vector<Bytes> restless_frames(std::size_t count) {
    std::vector<Bytes> frames(count, Bytes(universe_count * 512));
    test::Random random(1);
    for (Bytes& f : frames)
        for (std::uint8_t& slot : f) slot = static_cast<std::uint8_t>(random.bits());
    return frames;
}

class LoopSource : public Source {
  public:
    LoopSource() : frames_(restless_frames(16)), slots_(universe_count) {
        for (std::uint16_t u = 1; u <= universe_count; ++u) universes_.push_back({u, 512});
    }
    std::uint32_t refresh() const override { return bench::refresh; }
    std::span<const Universe> universes() const override { return universes_; }
    void prepare(std::uint64_t) override {}
    bool frame(std::uint64_t n) override {
        for (std::size_t u = 0; u < slots_.size(); ++u)
            slots_[u] = std::span(frames_[n % frames_.size()]).subspan(u * 512, 512);
        return true;
    }
    std::span<const std::span<const std::uint8_t>> slots() const override { return slots_; }
    std::string obey(std::string_view, Tick) override { return ""; }
    std::vector<std::string> news() override { return {}; }
    bool at_rest() const override { return false; }
    std::string damage() const override { return ""; }

  private:
    std::vector<Bytes> frames_;
    std::vector<Universe> universes_;
    std::vector<std::span<const std::uint8_t>> slots_;
};

// A port of loopback where packets are thrown away by the system once its buffer is full.
class Sink {
  public:
    Sink() {
        sockaddr_in a{};
        a.sin_family = AF_INET;
        a.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
        socklen_t size = sizeof a;
        if (::bind(fd_, reinterpret_cast<const sockaddr*>(&a), size) == 0)
            ::getsockname(fd_, reinterpret_cast<sockaddr*>(&address_), &size);
    }
    ~Sink() { ::close(fd_); }
    Sink(const Sink&) = delete;
    Sink& operator=(const Sink&) = delete;
    const sockaddr_in& address() const { return address_; }

  private:
    int fd_ = ::socket(AF_INET, SOCK_DGRAM, 0);
    sockaddr_in address_{};
};

double seconds_since(std::chrono::steady_clock::time_point begin) {
    return std::chrono::duration<double>(std::chrono::steady_clock::now() - begin).count();
}

double player_packets_per_second(const Sink& sink) {
    LoopSource source;
    auto carrier = unicast_carrier({"127.0.0.1", ntohs(sink.address().sin_port)}, {});
    if (!carrier.ok()) return 0;
    std::vector<std::unique_ptr<Output>> outputs;
    auto stream = std::make_shared<E131Stream>(E131Source{}, source.universes(), refresh);
    outputs.push_back(e131_output(std::move(stream), std::move(*carrier)));
    PlayOptions options;
    options.until = sent_frames;
    options.fast = true;
    const auto clock = system_clock();
    const auto begin = std::chrono::steady_clock::now();
    const auto report = play(source, outputs, *clock, options);
    return report.ok() ? universe_count * static_cast<double>(report->frames) / seconds_since(begin) : 0;
}

double bare_packets_per_second(const Sink& sink) {
    const int fd = ::socket(AF_INET, SOCK_DGRAM, 0);
    std::vector<Bytes> packets(universe_count, Bytes(E131Packet::size, 1));
    std::vector<iovec> pieces(universe_count);
    std::vector<mmsghdr> messages(universe_count);
    sockaddr_in to = sink.address();
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

// Notes how long after its time each frame comes.
class LatenessOutput : public Output {
  public:
    LatenessOutput(Clock& clock, std::vector<double>& late) : clock_(clock), late_(late) {}
    Status frame(const Frame& frame) override {
        const std::uint64_t now = clock_.now();
        if (frame.number == 0) start_ = now;
        const std::uint64_t due = start_ + frame.number * 1000000000 / refresh;
        if (frame.number > 0) late_.push_back(static_cast<double>(now - std::min(now, due)) / 1000);
        return {};
    }
    Status end(std::uint64_t) override { return {}; }
    Status finish() override { return {}; }

  private:
    Clock& clock_;
    std::vector<double>& late_;
    std::uint64_t start_ = 0;
};

double percentile_99(std::vector<double> values) {
    const std::size_t at = values.size() * 99 / 100;
    if (at >= values.size()) return 0;
    std::nth_element(values.begin(), values.begin() + static_cast<std::ptrdiff_t>(at), values.end());
    return values[at];
}

std::vector<double> player_lateness() {
    LoopSource source;
    const auto clock = system_clock();
    std::vector<double> late;
    std::vector<std::unique_ptr<Output>> outputs;
    outputs.push_back(std::make_unique<LatenessOutput>(*clock, late));
    int pipe[2];
    if (::pipe(pipe) != 0) return {};
    PlayOptions options;
    options.until = late_frames;
    options.input = pipe[0];  // commands may come, as on a terminal
    const auto report = play(source, outputs, *clock, options);
    ::close(pipe[0]);
    ::close(pipe[1]);
    return report.ok() ? late : std::vector<double>{};
}

std::vector<double> bare_lateness() {
    const auto clock = system_clock();
    const std::uint64_t start = clock->now();
    std::vector<double> late;
    for (std::uint64_t n = 1; n < late_frames; ++n) {
        const std::uint64_t due = start + n * 1000000000 / refresh;
        const timespec at{static_cast<time_t>(due / 1000000000), static_cast<long>(due % 1000000000)};
        ::clock_nanosleep(CLOCK_MONOTONIC, TIMER_ABSTIME, &at, nullptr);
        late.push_back(static_cast<double>(clock->now() - due) / 1000);
    }
    return late;
}

}  // namespace

std::vector<Row> play_rows() {
    const Sink sink;
    double ours = 0, theirs = 0;  // the best of three, in turn
    for (int i = 0; i < 3; ++i) {
        ours = std::max(ours, player_packets_per_second(sink));
        theirs = std::max(theirs, bare_packets_per_second(sink));
    }
    std::vector<double> late, bare;
    std::thread beside([&] { bare = bare_lateness(); });
    late = player_lateness();
    beside.join();
    return {
        {"player: send 8 universes, all slots changing", "packets/s", ours, theirs, Row::Goal::at_least, 0.9},
        {"player: lateness, 99th percentile", "us", percentile_99(late), percentile_99(bare),
         Row::Goal::at_most, 1.5}};
}

}  // namespace tallow::bench
