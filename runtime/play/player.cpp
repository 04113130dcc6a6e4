#include "runtime/play/player.hpp"

#include <algorithm>
#include <cerrno>
#include <fmt/format.h>
#include <string>
#include <unistd.h>

#include "runtime/duration.hpp"

namespace tallow::runtime {
namespace {

constexpr std::uint64_t second = 1000000000;
constexpr unsigned endings = 3;           // E1.31, 6.2.6: the bit that ends a stream goes out three times
constexpr std::size_t line_bytes = 4096;  // what is longer is no command, and not kept

class Player {
  public:
    Player(Source& source, std::span<const std::unique_ptr<Output>> outputs, Clock& clock,
           const PlayOptions& options)
        : source_(source),
          outputs_(outputs),
          clock_(clock),
          options_(options),
          refresh_(source.refresh()),
          input_(options.fast ? -1 : options.input),
          start_(clock.now()) {}

    Result<PlayReport> run();

  private:
    std::uint64_t time_of(std::uint64_t n) const { return start_ + (n - options_.from) * second / refresh_; }
    bool interrupted() const { return options_.interrupted && *options_.interrupted; }
    bool stopped() const { return quit_ || interrupted(); }
    bool left_alone() const { return input_ < 0 && options_.until == PlayOptions::open_end; }

    void wait_for(std::uint64_t n);
    void wait_deaf(std::uint64_t n);
    void read_commands();
    void obey(std::string_view line);
    Status show(std::uint64_t n);
    std::uint64_t after(std::uint64_t n);
    Status close(std::uint64_t n);
    void say(std::string_view line) {
        if (options_.say && !line.empty()) options_.say(line);
    }

    Source& source_;
    std::span<const std::unique_ptr<Output>> outputs_;
    Clock& clock_;
    const PlayOptions& options_;
    const std::uint32_t refresh_;
    int input_;
    std::uint64_t start_;  // the time of frame `from`
    bool quit_ = false;
    std::string typed_;  // of a line that has not ended
    PlayReport report_;
};

Result<PlayReport> Player::run() {
    std::uint64_t n = options_.from;
    while (n < options_.until) {
        source_.prepare(n);
        if (!options_.fast) wait_for(n);
        if (stopped() || !source_.frame(n)) break;
        if (auto s = show(n); !s.ok()) return s;
        const bool rests = left_alone() && source_.at_rest();
        n = rests ? n + 1 : after(n);
        if (rests && !options_.fast)
            say("no command can come any more and nothing starts by itself: the end");
        if (rests) break;
    }
    if (auto s = close(std::min(n, options_.until)); !s.ok()) return s;
    return report_;
}

void Player::wait_for(std::uint64_t n) {
    const std::uint64_t due = time_of(n);
    // Asks for commands once even when the frame is due already, so that a machine that is too slow still
    // hears `quit`.
    do {
        if (clock_.wait(due, input_)) read_commands();
    } while (!stopped() && clock_.now() < due);
}

void Player::read_commands() {
    char bytes[line_bytes];
    const ssize_t n = ::read(input_, bytes, sizeof bytes);
    if (n < 0 && (errno == EINTR || errno == EAGAIN)) return;
    if (n <= 0) {
        input_ = -1;
        if (!typed_.empty()) obey(typed_);
        return;
    }
    typed_.append(bytes, static_cast<std::size_t>(n));
    for (std::size_t end; (end = typed_.find('\n')) != std::string::npos; typed_.erase(0, end + 1))
        obey(std::string_view(typed_).substr(0, end));
    if (typed_.size() > line_bytes) typed_.clear();
}

void Player::obey(std::string_view line) {
    const std::size_t begin = line.find_first_not_of(" \t\r");
    line =
        begin == std::string_view::npos ? "" : line.substr(begin, line.find_last_not_of(" \t\r") - begin + 1);
    const Tick t =
        options_.from * ticks_per_frame + (clock_.now() - start_) * refresh_ / (second / ticks_per_frame);
    if (line == "quit")
        quit_ = true;
    else
        say(source_.obey(line.empty() ? "go" : line, t));
}

Status Player::show(std::uint64_t n) {
    const Frame frame{n, source_.slots()};
    if (!options_.fast && clock_.now() > time_of(n) + late_ns) ++report_.late;
    for (const auto& output : outputs_)
        if (auto s = output->frame(frame); !s.ok()) return s;
    ++report_.frames;
    for (const std::string& line : source_.news())
        say(fmt::format("{:>12}  {}", format_duration(n * 1000 / refresh_), line));
    return {};
}

// The frame to play after frame n: the next, or where time ran away, the last one that is due.
std::uint64_t Player::after(std::uint64_t n) {
    if (options_.fast) return n + 1;
    const std::uint64_t due = options_.from + (clock_.now() - start_) * refresh_ / second;
    const std::uint64_t next = std::max(n + 1, due);
    report_.dropped += next - (n + 1);
    return next;
}

// Waits for frame n's time without hearing commands.
void Player::wait_deaf(std::uint64_t n) {
    while (clock_.now() < time_of(n)) clock_.wait(time_of(n), -1);
}

Status Player::close(std::uint64_t n) {
    for (unsigned i = 0; i < endings; ++i) {
        if (!options_.fast) wait_deaf(n + i);
        for (const auto& output : outputs_)
            if (auto s = output->end(n + i); !s.ok()) return s;
    }
    for (const auto& output : outputs_)
        if (auto s = output->finish(); !s.ok()) return s;
    return {};
}

}  // namespace

Result<PlayReport> play(Source& source, std::span<const std::unique_ptr<Output>> outputs, Clock& clock,
                        const PlayOptions& options) {
    return Player(source, outputs, clock, options).run();
}

}  // namespace tallow::runtime
