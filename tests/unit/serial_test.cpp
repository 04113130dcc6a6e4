#include "runtime/output/serial.hpp"

#include <asm/termbits.h>
#include <catch2/catch.hpp>
#include <chrono>
#include <cstdlib>
#include <fcntl.h>
#include <poll.h>
#include <sys/ioctl.h>
#include <thread>
#include <unistd.h>

#include "tests/support/made_frames.hpp"

using namespace tallow;
using namespace tallow::runtime;

namespace {

constexpr std::uint64_t us = 1000;

// What a port was told, and when. Its time is the test's: it passes with waits, and while bytes leave.
struct Wire {
    struct Event {
        std::string what;
        std::uint64_t at;
    };
    std::uint64_t now = 5000 * us;
    std::uint64_t leaves_in = 0;  // how long a drain takes
    std::string fails;            // at this
    std::vector<Event> events;
    std::vector<std::vector<std::uint8_t>> packets;

    Status note(const std::string& what) {
        events.push_back({what, now});
        return what == fails ? Status::failure("cannot " + what) : Status();
    }
};

class NotingPort : public SerialPort {
  public:
    explicit NotingPort(Wire& wire) : wire_(wire) {}
    Status set_break(bool on) override { return wire_.note(on ? "break on" : "break off"); }
    Status write(std::span<const std::uint8_t> bytes) override {
        wire_.packets.emplace_back(bytes.begin(), bytes.end());
        return wire_.note("write");
    }
    Status drain() override {
        wire_.now += wire_.leaves_in;
        return wire_.note("drain");
    }
    std::uint64_t now() override { return wire_.now; }
    void wait(std::uint64_t until) override { wire_.now = std::max(wire_.now, until); }

  private:
    Wire& wire_;
};

Status send(Output& output, std::span<const std::uint8_t> slots) {
    const std::uint8_t other[1]{77};
    const std::span<const std::uint8_t> all[2]{other, slots};
    return output.frame({0, all});
}

// The other end of a port that is none: bytes pass, breaks do not, and it takes any setting.
struct PseudoTerminal {
    int fd = ::posix_openpt(O_RDWR | O_NOCTTY | O_CLOEXEC);
    std::string path;
    PseudoTerminal() {
        REQUIRE(fd >= 0);
        REQUIRE(::grantpt(fd) == 0);
        REQUIRE(::unlockpt(fd) == 0);
        path = ::ptsname(fd);
    }
    ~PseudoTerminal() { unplug(); }
    void unplug() {
        if (fd >= 0) ::close(fd);
        fd = -1;
    }
    std::vector<std::uint8_t> read(std::size_t size) const {
        std::vector<std::uint8_t> bytes(size);
        std::size_t got = 0;
        pollfd comes{fd, POLLIN, 0};
        while (got<size&& ::poll(&comes, 1, 5000)> 0) {
            const ssize_t n = ::read(fd, &bytes[got], size - got);
            if (n <= 0) break;
            got += static_cast<std::size_t>(n);
        }
        bytes.resize(got);
        return bytes;
    }
};

}  // namespace

TEST_CASE("a packet is a break, a mark, START code and 512 slots", "[unit][serial]") {
    Wire wire;
    const auto output = dmx_output(std::make_unique<NotingPort>(wire), 1);
    const std::uint8_t slots[3]{10, 20, 255};
    REQUIRE(send(*output, slots).ok());
    REQUIRE(wire.packets.size() == 1);
    std::vector<std::uint8_t> packet(513, 0);
    std::copy(std::begin(slots), std::end(slots), packet.begin() + 1);
    CHECK(wire.packets[0] == packet);
    REQUIRE(wire.events.size() == 4);
    CHECK(wire.events[0].what == "break on");
    CHECK(wire.events[1].what == "break off");
    CHECK(wire.events[2].what == "write");
    CHECK(wire.events[3].what == "drain");
}

TEST_CASE("a show's slots past 512 and frames of fewer slots do no harm", "[unit][serial]") {
    Wire wire;
    const auto output = dmx_output(std::make_unique<NotingPort>(wire), 1);
    const std::vector<std::uint8_t> many(600, 9);
    REQUIRE(send(*output, many).ok());
    CHECK(wire.packets[0].size() == 513);
    CHECK(wire.packets[0].back() == 9);
}

TEST_CASE("the end is the last packet again, and nothing when there was none", "[unit][serial]") {
    Wire wire;
    const auto output = dmx_output(std::make_unique<NotingPort>(wire), 1);
    REQUIRE(output->end(0).ok());
    CHECK(wire.packets.empty());
    const std::uint8_t slots[1]{200};
    REQUIRE(send(*output, slots).ok());
    REQUIRE(output->end(1).ok());
    REQUIRE(wire.packets.size() == 2);
    CHECK(wire.packets[1] == wire.packets[0]);
    CHECK(output->finish().ok());
}

TEST_CASE("whatever a port cannot do is the frame's failure", "[unit][serial]") {
    for (const char* what : {"break on", "break off", "write", "drain"}) {
        Wire wire;
        wire.fails = what;
        const auto output = dmx_output(std::make_unique<NotingPort>(wire), 1);
        CHECK(send(*output, {}).why() == std::string("cannot ") + what);
        CHECK(wire.events.back().what == what);
    }
}

TEST_CASE("slots come through a port whole and in order", "[unit][serial]") {
    const PseudoTerminal terminal;
    auto output = serial_opener({.path = terminal.path}, 1)();
    REQUIRE(output.ok());
    std::uint8_t slots[512];
    for (unsigned round = 0; round < 3; ++round) {
        for (unsigned i = 0; i < 512; ++i) slots[i] = static_cast<std::uint8_t>(i * 7 + i / 256 + round);
        std::vector<std::uint8_t> got;
        std::thread reader([&] { got = terminal.read(513); });
        const Status sent = send(**output, slots);
        reader.join();
        REQUIRE(sent.ok());
        REQUIRE(got.size() == 513);
        CHECK(got[0] == 0);
        CHECK(std::equal(got.begin() + 1, got.end(), slots));
    }
}

TEST_CASE("a port that has no room for all waits until it has", "[unit][serial]") {
    const PseudoTerminal terminal;
    const auto port = open_serial_port(terminal.path);
    REQUIRE(port.ok());
    std::vector<std::uint8_t> bytes(100000), got;
    for (std::size_t i = 0; i < bytes.size(); ++i) bytes[i] = static_cast<std::uint8_t>(i % 251);
    std::thread reader([&] {
        std::this_thread::sleep_for(std::chrono::milliseconds(20));
        got = terminal.read(bytes.size());
    });
    const Status sent = (*port)->write(bytes);
    reader.join();
    CHECK(sent.ok());
    CHECK(got == bytes);
}

TEST_CASE("a port is set to 250 kbit/s, 8 data bits, 2 stop bits, raw", "[unit][serial]") {
    const PseudoTerminal terminal;
    const auto port = open_serial_port(terminal.path);
    REQUIRE(port.ok());
    termios2 settings{};
    REQUIRE(::ioctl(terminal.fd, TCGETS2, &settings) == 0);
    CHECK(settings.c_ospeed == 250000);
    CHECK((settings.c_cflag & CBAUD) == BOTHER);
    CHECK((settings.c_cflag & CSIZE) == CS8);
    CHECK((settings.c_cflag & CSTOPB) != 0);
    CHECK((settings.c_cflag & (PARENB | CRTSCTS)) == 0);
    CHECK((settings.c_cflag & CLOCAL) != 0);
    CHECK((settings.c_iflag & (IXON | IXOFF | ICRNL | INLCR | ISTRIP)) == 0);
    CHECK((settings.c_oflag & OPOST) == 0);
    CHECK((settings.c_lflag & (ICANON | ECHO | ISIG)) == 0);
}

TEST_CASE("a port that is unplugged says so", "[unit][serial]") {
    PseudoTerminal terminal;
    auto output = serial_opener({.path = terminal.path}, 1)();
    REQUIRE(output.ok());
    terminal.unplug();
    CHECK(send(**output, {}).why() == "cannot send a break through serial port `" + terminal.path +
                                          "`: Input/output error; see whether the adapter is plugged in");
}

TEST_CASE("a port that is unplugged and plugged in again goes on with the latest frame", "[unit][serial]") {
    const std::string path = test::scratch("plugged_port");
    PseudoTerminal first, second;
    const auto plug = [&](const PseudoTerminal& terminal) {
        ::unlink(path.c_str());
        REQUIRE(::symlink(terminal.path.c_str(), path.c_str()) == 0);
    };
    plug(first);
    const std::vector<Universe> universes{{1, 1}};
    Supervision how = serial_supervision();
    how.first_pause = how.longest_pause = 10000 * us;
    const auto output = SupervisedOutput::start("the port", serial_opener({.path = path}, 0), universes, how);
    REQUIRE(output.ok());
    const auto offer = [&](std::uint8_t level) {
        const std::uint8_t slots[1]{level};
        const std::span<const std::uint8_t> all[1]{slots};
        (*output)->offer({level, all});
    };
    offer(1);
    CHECK(first.read(513).at(1) == 1);
    first.unplug();
    offer(2);
    while ((*output)->health().state != OutputHealth::State::down) std::this_thread::yield();
    offer(3);
    plug(second);
    CHECK(second.read(513).at(1) == 3);
    CHECK(second.read(513).at(1) == 3);  // and again, though no new frame comes
    CHECK((*output)->finish().ok());
    ::unlink(path.c_str());
}

TEST_CASE("a port that cannot be opened says what to do", "[unit][serial]") {
    CHECK(open_serial_port("/dev/no_such_port").why() ==
          "cannot open serial port `/dev/no_such_port`: No such file or directory; plug the adapter in; `ls "
          "/dev/serial/by-id` lists those that are there");
    CHECK(open_serial_port("/dev/null").why() ==
          "cannot use serial port `/dev/null`: Inappropriate ioctl for device; that is no serial port; give "
          "one like `/dev/ttyUSB0`");
    if (::geteuid() == 0) {
        WARN("the superuser may open every port: nobody is refused");
        return;
    }
    const std::string locked = test::scratch("locked_port");
    REQUIRE(::close(::open(locked.c_str(), O_CREAT | O_WRONLY, 0)) == 0);
    CHECK(open_serial_port(locked).why().find(
              "Permission denied; ask for its use: `sudo usermod -aG dialout") != std::string::npos);
    ::unlink(locked.c_str());
}

TEST_CASE("speeds within 2 % of 250 kbit/s will do", "[unit][serial]") {
    for (const std::uint32_t near : {250000u, 249000u, 245098u, 255102u}) CHECK(dmx_speed(near));
    for (const std::uint32_t far : {0u, 9600u, 230400u, 245097u, 255103u, 256000u})
        CHECK_FALSE(dmx_speed(far));
}

TEST_CASE("a port is given by its path, and a universe behind it", "[unit][serial]") {
    CHECK(*parse_serial("/dev/ttyUSB0") == SerialOptions{.path = "/dev/ttyUSB0"});
    CHECK(*parse_serial("/dev/ttyUSB0=3") ==
          SerialOptions{.path = "/dev/ttyUSB0", .universe = std::uint16_t{3}});
    CHECK(*parse_serial("/dev/a=b=63999") ==
          SerialOptions{.path = "/dev/a=b", .universe = std::uint16_t{63999}});
    for (const char* bad : {"/dev/ttyUSB0=", "/dev/ttyUSB0=0", "/dev/ttyUSB0=64000", "/dev/ttyUSB0=65539",
                            "/dev/ttyUSB0=-1", "/dev/ttyUSB0=+1", "/dev/ttyUSB0= 1", "/dev/ttyUSB0=1x"}) {
        INFO(bad);
        CHECK(parse_serial(bad).why().find("` is no universe; after `=` give its number, 1 to 63999") !=
              std::string::npos);
    }
    const std::string long_path = "/" + std::string(4095, 'a');
    for (const std::string& bad : {std::string(), std::string("=3"), std::string("ttyUSB0"), std::string("3"),
                                   std::string("/dev/a\0b", 8), long_path}) {
        INFO(bad);
        CHECK(parse_serial(bad).why().find("does not begin with the path of a serial port; give one like "
                                           "`/dev/ttyUSB0`") != std::string::npos);
    }
}

TEST_CASE("the universe that goes out is the show's first, or the one that is named", "[unit][serial]") {
    const std::vector<Universe> universes{{2, 512}, {3, 40}, {9, 512}};
    CHECK(*serial_universe({.path = "/dev/x"}, universes) == 0);
    CHECK(*serial_universe({.path = "/dev/x", .universe = std::uint16_t{9}}, universes) == 2);
    CHECK(serial_universe({.path = "/dev/x", .universe = std::uint16_t{4}}, universes).why() ==
          "the show has no universe 4 for `/dev/x`; it has 3, from 2 to 9");
    CHECK(serial_universe({.path = "/dev/x"}, {}).why() == "the show has no universe for `/dev/x`");
}
