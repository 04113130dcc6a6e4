// The program as it is installed, with a show of 8 universes and 500 cues: what it holds of memory, how long
// it takes to its first packet, and its size without symbols.
#include <algorithm>
#include <chrono>
#include <csignal>
#include <cstdlib>
#include <fcntl.h>
#include <filesystem>
#include <fmt/format.h>
#include <fstream>
#include <spawn.h>
#include <stdexcept>
#include <sys/wait.h>
#include <unistd.h>

#include "compiler/command/compilation.hpp"
#include "runtime/files.hpp"
#include "runtime/roll/roll_io.hpp"
#include "tests/bench/bench.hpp"
#include "tests/bench/loop_source.hpp"
#include "tests/support/random.hpp"

namespace tallow::bench {
namespace {

using namespace runtime;

// Every slot is a lamp's; each cue has a dozen neighbours of every universe at a level.
std::string large_show() {
    constexpr unsigned universes = 8, cues = 500, neighbours = 12;
    test::Random random(1);
    std::string text = "show \"Large\"  tallow 1\n";
    for (unsigned u = 1; u <= universes; ++u)
        text += fmt::format("patch {}/1\n    u{} 1..512  dimmer\n", u, u);
    for (unsigned cue = 1; cue <= cues; ++cue) {
        text += fmt::format("cue {}  fade 3s\n", cue);
        for (unsigned u = 1; u <= universes; ++u) {
            const unsigned first = 1 + random.below(512 - neighbours);
            text +=
                fmt::format("    u{} {}..{}  {}%\n", u, first, first + neighbours - 1, 5 + random.below(95u));
        }
    }
    return text;
}

std::string large_roll() {
    const auto compiled = command::compile(
        "large.tallow", [](const std::string&) { return Result<std::string>(large_show()); });
    if (!compiled.ok() || (*compiled)->failed()) throw std::logic_error("the show of the bench is wrong");
    return write_roll(command::make_roll(**compiled));
}

// tallow-play at work until it is let go.
class Program {
  public:
    Program(const std::string& roll, std::uint16_t port) {
        if (::pipe2(input_, O_CLOEXEC) != 0) return;
        posix_spawn_file_actions_t files;
        ::posix_spawn_file_actions_init(&files);
        ::posix_spawn_file_actions_adddup2(&files, input_[0], STDIN_FILENO);
        for (const int fd : {STDOUT_FILENO, STDERR_FILENO})
            ::posix_spawn_file_actions_addopen(&files, fd, "/dev/null", O_WRONLY, 0);
        std::string words[] = {TALLOW_PLAY_COMMAND, roll, "--sacn", fmt::format("127.0.0.1:{}", port),
                               "--no-state"};
        char* arguments[std::size(words) + 1]{};
        for (std::size_t i = 0; i < std::size(words); ++i) arguments[i] = words[i].data();
        if (::posix_spawn(&pid_, TALLOW_PLAY_COMMAND, &files, nullptr, arguments, environ) != 0) pid_ = 0;
        ::posix_spawn_file_actions_destroy(&files);
    }
    ~Program() {
        for (const int end : input_) ::close(end);
        if (pid_ == 0) return;
        ::kill(pid_, SIGTERM);
        ::waitpid(pid_, nullptr, 0);
    }
    Program(const Program&) = delete;
    Program& operator=(const Program&) = delete;

    bool type(std::string_view line) const {
        return ::write(input_[1], line.data(), line.size()) == static_cast<ssize_t>(line.size());
    }
    // The most that it has held so far, in MB.
    double memory() const {
        std::ifstream status(fmt::format("/proc/{}/status", pid_));
        for (std::string word; status >> word;)
            if (double kilobytes = 0; word == "VmHWM:" && status >> kilobytes) return kilobytes * 1024 / 1e6;
        return 0;
    }

  private:
    pid_t pid_ = 0;
    int input_[2]{-1, -1};
};

double megabytes_without_symbols(const std::string& scratch) {
    const std::string command = fmt::format("strip -o '{}' '{}'", scratch, TALLOW_PLAY_COMMAND);
    if (std::system(command.c_str()) != 0) return 0;
    return static_cast<double>(std::filesystem::file_size(scratch)) / 1e6;
}

}  // namespace

std::vector<Row> program_rows() {
    const std::string folder = TALLOW_BUILD_DIR "/", roll = folder + "bench.roll";
    if (!write_file(roll, large_roll()).ok()) return {};
    double start = 1e9, memory = 0;
    for (int i = 0; i < 7; ++i) {
        const Sink sink;
        const auto begin = std::chrono::steady_clock::now();
        const Program program(roll, sink.port());
        if (!sink.receive()) return {};
        start =
            std::min(start, std::chrono::duration<double>(std::chrono::steady_clock::now() - begin).count());
        for (int packets = 0; packets < 200 && program.type("go\n"); ++packets) sink.receive();
        memory = std::max(memory, program.memory());
    }
    const Row::Goal most = Row::Goal::at_most;
    return {{"tallow-play, 8 universes, 500 cues: memory", "MB", memory, 8, most, 1},
            {"tallow-play: start to first packet, best of 7", "ms", start * 1e3, 20, most, 1},
            {"tallow-play: size without symbols", "MB", megabytes_without_symbols(folder + "bench.stripped"),
             1, most, 1}};
}

}  // namespace tallow::bench
