#include "runtime/control/terminal.hpp"

#include <algorithm>
#include <array>
#include <cerrno>
#include <csignal>
#include <cstdlib>
#include <cstring>
#include <fcntl.h>
#include <fmt/format.h>
#include <poll.h>
#include <sys/ioctl.h>
#include <unistd.h>
#include <utility>

namespace tallow::runtime {
namespace {

// Another screen, no cursor, no wrapping, pasted text marked as such; and back. From xterm's control
// sequences, which terminals have in common (common practice, no source).
constexpr std::string_view take_screen = "\033[?1049h\033[?25l\033[?7l\033[?2004h\033[2J";
constexpr std::string_view give_back = "\033[0m\033[?2004l\033[?7h\033[?25h\033[?1049l";
constexpr int leave_wait_ms = 200;
constexpr std::size_t read_at_once = 4096;  // bytes; more than that come the next time

Status refused(const char* tried) {
    return Status::failure(
        fmt::format("{}: {}; play without the console, or from a terminal", tried, std::strerror(errno)));
}

// Whether the shell has given the terminal to another job: reading from it would stop this one.
bool is_elsewhere(int fd) {
    const pid_t job = tcgetpgrp(fd);
    return job > 0 && job != getpgrp();
}

// Sets it even where another job has it, which would stop this one.
bool set(int fd, const termios& to) noexcept {
    sigset_t ttou, old;
    sigemptyset(&ttou);
    sigaddset(&ttou, SIGTTOU);
    pthread_sigmask(SIG_BLOCK, &ttou, &old);
    const bool done = tcsetattr(fd, TCSANOW, &to) == 0;
    pthread_sigmask(SIG_SETMASK, &old, nullptr);
    return done;
}

// Keys one by one; control C, Z, S and the like are keys too: none may stop the player.
termios bare(termios t) {
    t.c_iflag &= ~static_cast<tcflag_t>(BRKINT | ICRNL | INLCR | IGNCR | INPCK | ISTRIP | IXON);
    t.c_oflag &= ~static_cast<tcflag_t>(OPOST);
    t.c_lflag &= ~static_cast<tcflag_t>(ECHO | ECHONL | ICANON | IEXTEN | ISIG);
    t.c_cc[VMIN] = 0;
    t.c_cc[VTIME] = 0;
    return t;
}

}  // namespace

Status Terminal::enter(int descriptor) {
    leave();
    if (isatty(descriptor) == 0) return refused("cannot show the console");
    const char* kind = std::getenv("TERM");
    if (kind == nullptr || *kind == 0 || std::string_view(kind) == "dumb")
        return Status::failure(
            "cannot show the console: TERM says that the terminal can only print lines; set TERM to the "
            "terminal's kind");
    if (is_elsewhere(descriptor))
        return Status::failure(
            "cannot show the console: the player runs in the background; bring it forward");
    // Opened once more, so that not waiting is set for this use of it alone.
    fd_ =
        open(fmt::format("/proc/self/fd/{}", descriptor).c_str(), O_RDWR | O_NONBLOCK | O_NOCTTY | O_CLOEXEC);
    if (fd_ < 0) return refused("cannot open the terminal");
    if (tcgetattr(fd_, &before_) != 0 || !set(fd_, bare(before_))) {
        Status status = refused("cannot set the terminal to single keys");
        close(std::exchange(fd_, -1));
        return status;
    }
    again();
    return {};
}

void Terminal::leave() noexcept {
    if (fd_ < 0) return;
    const int fd = std::exchange(fd_, -1);
    pollfd ready{fd, POLLOUT, 0};
    if (!away_ && poll(&ready, 1, leave_wait_ms) > 0) {
        // A drawing may have been cut in a sequence: the control character CAN ends it (ECMA-48).
        if (!unsent_.empty()) [[maybe_unused]]
            const auto cancelled = write(fd, "\030", 1);
        [[maybe_unused]] const auto given = write(fd, give_back.data(), give_back.size());
    }
    if (!away_) set(fd, before_);  // else the shell has set it for the other job
    close(fd);
}

bool Terminal::read(std::string& keys) {
    if (fd_ < 0) return false;
    if (is_elsewhere(fd_)) return true;
    std::array<char, read_at_once> bytes;
    pollfd ready{fd_, POLLIN, 0};
    if (poll(&ready, 1, 0) <= 0) return true;
    const ssize_t n = ::read(fd_, bytes.data(), bytes.size());
    if (n > 0) {
        keys.append(bytes.data(), static_cast<std::size_t>(n));
        return true;
    }
    // Ready without a byte: hung up.
    if (n < 0 && (errno == EAGAIN || errno == EINTR)) return true;
    if (n == 0 && (ready.revents & (POLLHUP | POLLERR)) == 0) return true;
    leave();
    return false;
}

Terminal::Size Terminal::size() const {
    winsize w{};
    if (fd_ < 0 || ioctl(fd_, TIOCGWINSZ, &w) != 0 || w.ws_col == 0 || w.ws_row == 0) return {};
    return {w.ws_col, w.ws_row};
}

// Sends what is left of the latest drawing, as far as the terminal takes it.
bool Terminal::flush() {
    away_ = is_elsewhere(fd_);
    if (away_) return false;
    while (!unsent_.empty()) {
        const ssize_t n = write(fd_, unsent_.data(), unsent_.size());
        if (n < 0 && errno == EINTR) continue;
        if (n <= 0) return false;
        unsent_.erase(0, static_cast<std::size_t>(n));
    }
    return true;
}

bool Terminal::show(const std::vector<std::string>& lines) {
    if (fd_ < 0) return false;
    if (away_) again();
    if (away_ || !flush()) return false;
    const Size now = size();
    if (now != drawn_size_ || shown_.size() != lines.size()) anew();
    if (shown_.empty()) unsent_ += "\033[0m\033[2J";
    drawn_size_ = now;
    const std::size_t rows = std::min<std::size_t>(lines.size(), now.rows);
    for (std::size_t i = 0; i < rows; ++i)
        if (shown_.empty() || shown_[i] != lines[i])
            unsent_ += fmt::format("\033[{};1H\033[K{}", i + 1, lines[i]);
    shown_ = lines;
    flush();
    return true;
}

void Terminal::again() {
    if (fd_ < 0) return;
    away_ = is_elsewhere(fd_);
    if (away_) return;
    set(fd_, bare(before_));
    unsent_ = take_screen;
    anew();
}

}  // namespace tallow::runtime
