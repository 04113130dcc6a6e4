// One universe through a serial port, by DMX512-A (ANSI E1.11): 250 kbit/s, 8 data bits, 2 stop bits.
#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <string_view>

#include "runtime/output/output.hpp"
#include "runtime/output/supervised.hpp"
#include "runtime/status.hpp"

namespace tallow::runtime {

// What E1.11 asks of one that sends, in microseconds.
inline constexpr std::uint32_t dmx_break_us_min = 92, dmx_mark_us_min = 12, dmx_slot_us = 44;
// The project's own: most breaks are about so long; longer than this none needs to be.
inline constexpr std::uint32_t dmx_break_us = 176, dmx_break_us_max = 1000, dmx_mark_us = 16;

struct SerialOptions {
    std::string path = {};                       // "/dev/ttyUSB0"
    std::optional<std::uint16_t> universe = {};  // 1..63999; none: the show's first
    std::uint32_t break_us = dmx_break_us;       // dmx_break_us_min..dmx_break_us_max
    bool operator==(const SerialOptions&) const = default;
};

// `/dev/ttyUSB0`, or with the universe `/dev/ttyUSB0=3`; the last `=` divides. A failure says what is wrong.
Result<SerialOptions> parse_serial(std::string_view text);

// Which of the universes goes out; fails when it is not among them.
Result<std::size_t> serial_universe(const SerialOptions& options, std::span<const Universe> universes);

// A serial port, as far as DMX512-A needs one. Failures name it.
class SerialPort {
  public:
    virtual ~SerialPort() = default;
    virtual Status set_break(bool on) = 0;  // the line's state from now on
    virtual Status write(std::span<const std::uint8_t> bytes) = 0;
    virtual Status drain() = 0;  // comes back when the system says that all has left
    // Nanoseconds from some beginning; and until then at least.
    virtual std::uint64_t now() = 0;
    virtual void wait(std::uint64_t until) = 0;
};

// Opens and sets it up. It must be a serial port (Linux) that takes 250 kbit/s within the 2 % that E1.11
// allows, and nobody else's.
Result<std::unique_ptr<SerialPort>> open_serial_port(const std::string& path);

// Whether a port that was asked for 250 kbit/s and answers with this speed is near enough.
bool dmx_speed(std::uint32_t bits_per_second);

// Each frame is one packet: a break, a mark, START code 0 and always 512 slots, those past the universe's own
// being 0. It comes back when the packet has left, 22.8 ms after it began at the least, so that the next may
// follow. The end is the last packet once more, for the standard knows no other. `place` is the universe's
// among those of a frame.
std::unique_ptr<Output> dmx_output(std::unique_ptr<SerialPort> port, std::size_t place,
                                   std::uint32_t break_us = dmx_break_us);

// How an output on a port is looked after: a frame that the line has no time for is passed over, and the last
// one is sent again before a second is over, the longest that E1.11 allows between breaks.
Supervision serial_supervision();
// Opens the port that the options name, each time it is called; `place` is from serial_universe().
OpenOutput serial_opener(const SerialOptions& options, std::size_t place);

}  // namespace tallow::runtime
