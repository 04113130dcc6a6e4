#include "tests/support/running.hpp"

#include <catch2/catch.hpp>
#include <chrono>
#include <csignal>
#include <fcntl.h>
#include <poll.h>
#include <pty.h>
#include <sys/wait.h>
#include <unistd.h>
#include <utility>

namespace tallow::test {
namespace {

using Clock = std::chrono::steady_clock;
constexpr std::chrono::seconds patience{10};

[[noreturn]] void become(const std::vector<std::string>& command) {
    std::vector<char*> arguments;
    for (const std::string& one : command) arguments.push_back(const_cast<char*>(one.c_str()));
    arguments.push_back(nullptr);
    ::signal(SIGHUP, SIG_DFL);  // as from a shell, however the tests were started
    ::execv(arguments[0], arguments.data());
    ::_exit(127);
}

}  // namespace

Running::Running(const std::vector<std::string>& command, Desk desk) {
    if (desk == Desk::terminal) {
        winsize size{24, 80, 0, 0};
        pid_ = ::forkpty(&to_, nullptr, nullptr, &size);
        REQUIRE(pid_ >= 0);
        if (pid_ == 0) {
            ::setenv("TERM", "xterm", 1);
            become(command);
        }
        from_ = to_;
        ::fcntl(to_, F_SETFD, FD_CLOEXEC);
        return;
    }
    int in[2], out[2];
    REQUIRE(::pipe2(in, O_CLOEXEC) == 0);
    REQUIRE(::pipe2(out, O_CLOEXEC) == 0);
    pid_ = ::fork();
    REQUIRE(pid_ >= 0);
    if (pid_ == 0) {
        ::dup2(in[0], STDIN_FILENO);
        ::dup2(out[1], STDOUT_FILENO);
        ::dup2(out[1], STDERR_FILENO);
        become(command);
    }
    ::close(in[0]);
    ::close(out[1]);
    to_ = in[1];
    from_ = out[0];
}

Running::~Running() {
    if (pid_ > 0) {
        ::kill(pid_, SIGKILL);
        ::waitpid(pid_, nullptr, 0);
    }
    if (from_ >= 0 && from_ != to_) ::close(from_);
    if (to_ >= 0) ::close(to_);
}

void Running::type(const std::string& text) {
    REQUIRE(::write(to_, text.data(), text.size()) == static_cast<ssize_t>(text.size()));
}

void Running::close_input() {
    if (from_ == to_) from_ = -1;
    ::close(std::exchange(to_, -1));
}

// False at the end of what it says.
bool Running::read_some(int ms) {
    pollfd ready{from_, POLLIN, 0};
    if (from_ < 0 || ::poll(&ready, 1, ms) <= 0) return from_ >= 0;
    char bytes[4096];
    const ssize_t n = ::read(from_, bytes, sizeof bytes);
    if (n > 0) out_.append(bytes, static_cast<std::size_t>(n));
    return n > 0;
}

bool Running::says(const std::string& text) {
    const auto until = Clock::now() + patience;
    bool more = true;
    while (true) {
        if (const std::size_t at = out_.find(text, looked_); at != std::string::npos) {
            looked_ = at + text.size();
            return true;
        }
        if (!more || Clock::now() > until) return false;
        more = read_some(50);
    }
}

void Running::signal(int number) {
    REQUIRE(::kill(pid_, number) == 0);
}

int Running::finish() {
    const auto until = Clock::now() + patience;
    int status = 0;
    while (::waitpid(pid_, &status, WNOHANG) == 0) {
        REQUIRE(Clock::now() < until);
        if (!read_some(20)) ::usleep(20000);
    }
    pid_ = -1;
    while (from_ >= 0) {
        const std::size_t before = out_.size();
        if (!read_some(0) || out_.size() == before) break;
    }
    return WIFEXITED(status) ? WEXITSTATUS(status) : -WTERMSIG(status);
}

}  // namespace tallow::test
