#include "runtime/output/serial.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <fmt/format.h>

#include "runtime/limits.hpp"

namespace tallow::runtime {
namespace {

constexpr std::size_t path_bytes = 4095;  // the longest that Linux takes
constexpr std::uint64_t microsecond = 1000;
// An adapter may begin to send later than it was told, and not know when it is through.
constexpr std::uint64_t allowance = 200 * microsecond;
constexpr std::uint64_t repeat_after = 250000000;  // four packets a second, while no frame comes

std::optional<std::uint16_t> parse_universe(std::string_view digits) {
    std::uint16_t n = 0;
    const auto [end, error] = std::from_chars(digits.data(), digits.data() + digits.size(), n);
    const bool whole = error == std::errc() && end == digits.data() + digits.size();
    if (!whole || n < limits::universe_min || n > limits::universe_max) return {};
    return n;
}

class DmxOutput : public Output {
  public:
    DmxOutput(std::unique_ptr<SerialPort> port, std::size_t place, std::uint32_t break_us)
        : port_(std::move(port)), place_(place), break_us_(break_us) {}

    Status frame(const Frame& frame) override {
        const std::span<const std::uint8_t> slots = frame.slots[place_];
        std::copy_n(slots.begin(), std::min<std::size_t>(slots.size(), limits::slots), packet_.begin() + 1);
        begun_ = true;
        return send();
    }
    Status end(std::uint64_t) override { return begun_ ? send() : Status(); }
    Status finish() override { return {}; }

  private:
    Status send();

    std::unique_ptr<SerialPort> port_;
    std::size_t place_;
    std::uint32_t break_us_;
    std::array<std::uint8_t, 1 + limits::slots> packet_{};  // START code 0, then the slots
    bool begun_ = false;
};

Status DmxOutput::send() {
    if (auto s = port_->set_break(true); !s.ok()) return s;
    port_->wait(port_->now() + break_us_ * microsecond);
    if (auto s = port_->set_break(false); !s.ok()) return s;
    port_->wait(port_->now() + dmx_mark_us * microsecond);
    const std::uint64_t through = port_->now() + packet_.size() * dmx_slot_us * microsecond + allowance;
    if (auto s = port_->write(packet_); !s.ok()) return s;
    if (auto s = port_->drain(); !s.ok()) return s;
    // A port that says too early that all has left must not have its last slots cut off by the next break.
    port_->wait(through);
    return {};
}

}  // namespace

Result<SerialOptions> parse_serial(std::string_view text) {
    SerialOptions options;
    const std::size_t divides = text.rfind('=');
    const std::string_view path = text.substr(0, divides);
    if (!path.starts_with('/') || path.size() > path_bytes || path.find('\0') != std::string_view::npos)
        return Status::failure(fmt::format(
            "`{}` does not begin with the path of a serial port; give one like `/dev/ttyUSB0`", path));
    options.path = path;
    if (divides == std::string_view::npos) return options;
    options.universe = parse_universe(text.substr(divides + 1));
    if (!options.universe)
        return Status::failure(fmt::format("`{}` is no universe; after `=` give its number, {} to {}",
                                           text.substr(divides + 1), limits::universe_min,
                                           limits::universe_max));
    return options;
}

Result<std::size_t> serial_universe(const SerialOptions& options, std::span<const Universe> universes) {
    if (universes.empty())
        return Status::failure(fmt::format("the show has no universe for `{}`", options.path));
    if (!options.universe) return std::size_t{0};
    const auto found = std::find_if(universes.begin(), universes.end(),
                                    [&](const Universe& u) { return u.number == *options.universe; });
    if (found == universes.end())
        return Status::failure(fmt::format("the show has no universe {} for `{}`; it has {}, from {} to {}",
                                           *options.universe, options.path, universes.size(),
                                           universes.front().number, universes.back().number));
    return static_cast<std::size_t>(found - universes.begin());
}

bool dmx_speed(std::uint32_t bits_per_second) {
    // A bit lasts 3.92 to 4.08 microseconds (E1.11, from memory).
    return bits_per_second >= 245098 && bits_per_second <= 255102;
}

std::unique_ptr<Output> dmx_output(std::unique_ptr<SerialPort> port, std::size_t place,
                                   std::uint32_t break_us) {
    return std::make_unique<DmxOutput>(std::move(port), place, break_us);
}

Supervision serial_supervision() {
    return {.every_frame = false, .repeat_after = repeat_after};
}

OpenOutput serial_opener(const SerialOptions& options, std::size_t place) {
    return [options, place]() -> Result<std::unique_ptr<Output>> {
        auto port = open_serial_port(options.path);
        if (!port.ok()) return port.status();
        return dmx_output(std::move(*port), place, options.break_us);
    };
}

}  // namespace tallow::runtime
