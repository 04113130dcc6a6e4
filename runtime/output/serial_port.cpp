// A serial port of Linux: any speed by termios2, breaks by TIOCSBRK.
#include <asm/termbits.h>
#include <cerrno>
#include <cstring>
#include <fcntl.h>
#include <fmt/format.h>
#include <sys/ioctl.h>
#include <time.h>
#include <unistd.h>

#include "runtime/monotonic.hpp"
#include "runtime/output/bell.hpp"
#include "runtime/output/serial.hpp"

namespace tallow::runtime {
namespace {

constexpr std::uint32_t dmx_bits_per_second = 250000;

const char* what_to_do(int error) {
    switch (error) {
        case ENOENT:
        case ENODEV:
        case ENXIO:
            return "plug the adapter in; `ls /dev/serial/by-id` lists those that are there";
        case EIO:
            return "see whether the adapter is plugged in";
        case EACCES:
        case EPERM:
            return "ask for its use: `sudo usermod -aG dialout $USER` adds you to the group `dialout`, from "
                   "the next login on";
        case EBUSY:
            return "another program has it: end that first";
        case ENOTTY:
            return "that is no serial port; give one like `/dev/ttyUSB0`";
        default:
            return "check the adapter and its cable";
    }
}

Status failure(const char* tried, const std::string& path, int error) {
    return Status::failure(fmt::format("cannot {} serial port `{}`: {}; {}", tried, path,
                                       std::strerror(error), what_to_do(error)));
}

class LinuxPort : public SerialPort {
  public:
    LinuxPort(int fd, const std::string& path) : fd_(fd), path_(path) {}
    // What has not left is of no use any more, and closing would wait for it.
    ~LinuxPort() override {
        control(TCFLSH, TCOFLUSH);
        ::close(fd_);
    }
    LinuxPort(const LinuxPort&) = delete;
    LinuxPort& operator=(const LinuxPort&) = delete;

    Status set_up();
    Status set_break(bool on) override {
        return control(on ? TIOCSBRK : TIOCCBRK, 0) ? Status()
                                                    : failure("send a break through", path_, errno);
    }
    Status write(std::span<const std::uint8_t> bytes) override;
    Status drain() override {
        // TCSBRK with anything but 0 sends no break, and waits until all has left.
        return control(TCSBRK, 1) ? Status() : failure("send through", path_, errno);
    }
    std::uint64_t now() override { return monotonic_now(); }
    void wait(std::uint64_t until) override {
        const timespec at = as_timespec(until);
        while (::clock_nanosleep(CLOCK_MONOTONIC, TIMER_ABSTIME, &at, nullptr) == EINTR) {
        }
    }

  private:
    template <class Argument>
    bool control(unsigned long what, Argument argument) {
        int done;
        do done = ::ioctl(fd_, what, argument);
        while (done < 0 && errno == EINTR);
        return done >= 0;
    }

    int fd_;
    std::string path_;
};

Status LinuxPort::set_up() {
    termios2 settings{};
    if (!control(TCGETS2, &settings)) return failure("use", path_, errno);
    if (!control(TIOCEXCL, 0)) return failure("have for itself the", path_, errno);
    settings.c_iflag = settings.c_oflag = settings.c_lflag = 0;  // raw, no flow control by characters
    // Nor by wires: CRTSCTS is not set.
    settings.c_cflag = CS8 | CSTOPB | CLOCAL | CREAD | BOTHER | BOTHER << IBSHIFT;
    settings.c_ispeed = settings.c_ospeed = dmx_bits_per_second;
    settings.c_cc[VMIN] = 1;
    settings.c_cc[VTIME] = 0;
    if (!control(TCSETS2, &settings))
        return failure("set 250 kbit/s, 8 data and 2 stop bits on", path_, errno);
    if (!control(TCGETS2, &settings)) return failure("use", path_, errno);
    if (!dmx_speed(settings.c_ospeed))
        return Status::failure(fmt::format(
            "serial port `{}` cannot send at 250 kbit/s: it offers {} bit/s; use an adapter that is made for "
            "DMX512",
            path_, settings.c_ospeed));
    // Opened without waiting for a carrier; from here on a write waits for room.
    const int flags = ::fcntl(fd_, F_GETFL);
    if (flags < 0 || ::fcntl(fd_, F_SETFL, flags & ~O_NONBLOCK) < 0) return failure("use", path_, errno);
    return {};
}

Status LinuxPort::write(std::span<const std::uint8_t> bytes) {
    while (!bytes.empty()) {
        const ssize_t n = ::write(fd_, bytes.data(), bytes.size());
        if (n < 0 && errno == EINTR) continue;
        if (n < 0) return failure("send through", path_, errno);
        bytes = bytes.subspan(static_cast<std::size_t>(n));
    }
    return {};
}

}  // namespace

Result<std::unique_ptr<SerialPort>> open_serial_port(const std::string& path) {
    const int fd = ::open(path.c_str(), O_RDWR | O_NOCTTY | O_NONBLOCK | O_CLOEXEC);
    if (fd < 0) return failure("open", path, errno);
    auto port = std::make_unique<LinuxPort>(fd, path);
    if (auto s = port->set_up(); !s.ok()) return s;
    return std::unique_ptr<SerialPort>(std::move(port));
}

}  // namespace tallow::runtime
