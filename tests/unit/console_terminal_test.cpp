// On a pseudo-terminal, whose other end the test holds.
#include <catch2/catch.hpp>
#include <csignal>
#include <cstdlib>
#include <cstring>
#include <fcntl.h>
#include <poll.h>
#include <sys/ioctl.h>
#include <sys/wait.h>
#include <unistd.h>
#include <utility>

#include "runtime/control/terminal.hpp"

using namespace tallow::runtime;

namespace {

struct Pseudo {
    Pseudo() {
        setenv("TERM", "xterm", 1);
        far = posix_openpt(O_RDWR | O_NOCTTY | O_NONBLOCK);
        REQUIRE(far >= 0);
        REQUIRE(grantpt(far) == 0);
        REQUIRE(unlockpt(far) == 0);
        near = open(ptsname(far), O_RDWR | O_NOCTTY);
        REQUIRE(near >= 0);
        resize(40, 12);
    }
    ~Pseudo() {
        close(near);
        hang_up();
    }
    void hang_up() {
        if (far >= 0) close(std::exchange(far, -1));
    }
    void resize(unsigned short columns, unsigned short rows) const {
        const winsize size{rows, columns, 0, 0};
        REQUIRE(ioctl(near, TIOCSWINSZ, &size) == 0);
    }
    termios mode() const {
        termios t{};
        REQUIRE(tcgetattr(near, &t) == 0);
        return t;
    }
    // All that has been written to the terminal.
    std::string screen() const {
        std::string all;
        char bytes[4096];
        pollfd ready{far, POLLIN, 0};
        while (poll(&ready, 1, 50) > 0) {
            const ssize_t n = read(far, bytes, sizeof bytes);
            if (n <= 0) break;
            all.append(bytes, static_cast<std::size_t>(n));
        }
        return all;
    }
    void type(std::string_view bytes) const {
        REQUIRE(write(far, bytes.data(), bytes.size()) == static_cast<ssize_t>(bytes.size()));
    }
    int far = -1, near = -1;
};

bool same(const termios& a, const termios& b) {
    return a.c_iflag == b.c_iflag && a.c_oflag == b.c_oflag && a.c_cflag == b.c_cflag &&
           a.c_lflag == b.c_lflag && std::memcmp(a.c_cc, b.c_cc, sizeof a.c_cc) == 0;
}

const std::string begin = "\033[?1049h\033[?25l\033[?7l\033[?2004h\033[2J",
                  end = "\033[0m\033[?2004l\033[?7h\033[?25h\033[?1049l";

}  // namespace

TEST_CASE("a terminal is taken and put back as it was", "[unit][console]") {
    const Pseudo pty;
    const termios before = pty.mode();
    const int flags = fcntl(pty.near, F_GETFL);
    {
        Terminal terminal;
        REQUIRE(terminal.enter(pty.near).ok());
        CHECK((pty.mode().c_lflag & (ECHO | ICANON | ISIG)) == 0);
        CHECK(fcntl(pty.near, F_GETFL) == flags);  // which the shell shares
        CHECK(terminal.show({"one"}));
        CHECK(pty.screen() == begin + "\033[0m\033[2J\033[1;1H\033[Kone");
    }
    CHECK(same(pty.mode(), before));
    CHECK(pty.screen() == end);
}

TEST_CASE("an exception and a signal put the terminal back", "[unit][console]") {
    const Pseudo pty;
    const termios before = pty.mode();
    try {
        Terminal terminal;
        REQUIRE(terminal.enter(pty.near).ok());
        throw 1;
    } catch (int) {
    }
    CHECK(same(pty.mode(), before));
    CHECK(pty.screen().ends_with(end));

    const pid_t child = fork();
    REQUIRE(child >= 0);
    if (child == 0) {
        static Terminal terminal;
        std::signal(SIGTERM, [](int) {
            terminal.leave();
            _exit(7);
        });
        if (!terminal.enter(pty.near).ok()) _exit(1);
        std::raise(SIGTERM);
        _exit(2);
    }
    int status = 0;
    REQUIRE(waitpid(child, &status, 0) == child);
    CHECK(WIFEXITED(status));
    CHECK(WEXITSTATUS(status) == 7);
    CHECK(same(pty.mode(), before));
    CHECK(pty.screen().ends_with(end));
}

TEST_CASE("only lines that differ are written", "[unit][console]") {
    const Pseudo pty;
    Terminal terminal;
    REQUIRE(terminal.enter(pty.near).ok());
    CHECK(terminal.show({"one", "two", "three"}));
    pty.screen();
    CHECK(terminal.show({"one", "2", "three"}));
    CHECK(pty.screen() == "\033[2;1H\033[K2");
    CHECK(terminal.show({"one", "2", "three"}));
    CHECK(pty.screen() == "");
    terminal.anew();
    CHECK(terminal.show({"a", "b"}));
    CHECK(pty.screen() == "\033[0m\033[2J\033[1;1H\033[Ka\033[2;1H\033[Kb");
    CHECK(terminal.size() == Terminal::Size{40, 12});
    pty.resize(20, 1);
    CHECK(terminal.size() == Terminal::Size{20, 1});
    CHECK(terminal.show({"a", "b"}));
    CHECK(pty.screen() == "\033[0m\033[2J\033[1;1H\033[Ka");
    terminal.again();
    CHECK(terminal.show({"a"}));
    CHECK(pty.screen() == begin + "\033[0m\033[2J\033[1;1H\033[Ka");
}

TEST_CASE("keys come one by one, control keys among them", "[unit][console]") {
    const Pseudo pty;
    Terminal terminal;
    std::string keys;
    CHECK_FALSE(terminal.read(keys));
    REQUIRE(terminal.enter(pty.near).ok());
    CHECK(terminal.read(keys));
    CHECK(keys.empty());
    pty.type("a\r\003\032\023\033[A");
    CHECK(terminal.read(keys));
    CHECK(keys == "a\r\003\032\023\033[A");
    CHECK(terminal.descriptor() >= 0);
}

TEST_CASE("a terminal that takes no bytes holds nobody up", "[unit][console]") {
    const Pseudo pty;
    Terminal terminal;
    REQUIRE(terminal.enter(pty.near).ok());
    int shown = 0;
    const auto line = [&](int i) {
        return std::string(2000, static_cast<char>('a' + i % 26)) + std::to_string(i);
    };
    for (; shown < 1000 && terminal.show({line(shown)}); ++shown) continue;
    REQUIRE(shown < 1000);
    CHECK_FALSE(terminal.show({line(shown)}));
    // What comes then is whole: the drawings up to the last one that was taken, then the newest.
    std::string all = pty.screen();
    CHECK_FALSE(all.empty());
    for (int i = 0; i < 100 && !terminal.show({"newest"}); ++i) all += pty.screen();
    all += pty.screen();
    std::string expected = begin + "\033[0m\033[2J";
    for (int i = 0; i < shown; ++i) expected += "\033[1;1H\033[K" + line(i);
    CHECK(all == expected + "\033[1;1H\033[Knewest");
}

TEST_CASE("a terminal that hangs up is left", "[unit][console]") {
    Pseudo pty;
    Terminal terminal;
    REQUIRE(terminal.enter(pty.near).ok());
    pty.hang_up();
    std::string keys;
    CHECK_FALSE(terminal.read(keys));
    CHECK(terminal.descriptor() == -1);
    CHECK_FALSE(terminal.show({"one"}));
}

TEST_CASE("what cannot show a console says so", "[unit][console]") {
    const Pseudo pty;
    Terminal terminal;
    const int null = open("/dev/null", O_RDWR);
    CHECK(terminal.enter(null).why().starts_with("cannot show the console: Inappropriate ioctl for device"));
    close(null);
    setenv("TERM", "dumb", 1);
    CHECK(terminal.enter(pty.near).why().find("can only print lines") != std::string::npos);
    setenv("TERM", "xterm", 1);
    CHECK(terminal.descriptor() == -1);
}
