// The timing of packets on a DMX512-A line, against ANSI E1.11.
#include <algorithm>
#include <catch2/catch.hpp>
#include <string>
#include <vector>

#include "runtime/output/serial.hpp"

using namespace tallow;
using namespace tallow::runtime;

namespace {

constexpr std::uint64_t us = 1000, slot_us = 44;

// A line on which time passes as the port is told to wait, and nothing else takes any: the shortest there is.
struct Line {
    std::uint64_t now = 0;
    std::uint64_t late = 0;  // how long after a write the first bit leaves
    std::vector<std::uint64_t> break_on, break_off, first_bit, last_bit;
};

class LinePort : public SerialPort {
  public:
    explicit LinePort(Line& line) : line_(line) {}
    Status set_break(bool on) override {
        (on ? line_.break_on : line_.break_off).push_back(line_.now);
        return {};
    }
    Status write(std::span<const std::uint8_t> bytes) override {
        line_.first_bit.push_back(line_.now + line_.late);
        line_.last_bit.push_back(line_.first_bit.back() + bytes.size() * slot_us * us);
        return {};
    }
    // An adapter that keeps what it is given to itself: it says at once that all has left.
    Status drain() override { return {}; }
    std::uint64_t now() override { return line_.now; }
    void wait(std::uint64_t until) override { line_.now = std::max(line_.now, until); }

  private:
    Line& line_;
};

void send(Output& output, unsigned packets) {
    const std::vector<std::uint8_t> slots(512, 0x55);
    const std::span<const std::uint8_t> all[1]{slots};
    for (unsigned n = 0; n < packets; ++n) REQUIRE(output.frame({n, all}).ok());
}

}  // namespace

TEST_CASE("breaks, marks and packets last as long as E1.11 asks", "[reference][serial]") {
    for (const std::uint32_t break_us : {dmx_break_us_min, dmx_break_us, dmx_break_us_max}) {
        for (const std::uint64_t late : {0 * us, 200 * us}) {
            Line line;
            line.late = late;
            send(*dmx_output(std::make_unique<LinePort>(line), 0, break_us), 4);
            REQUIRE(line.break_on.size() == 4);
            for (std::size_t i = 0; i < 4; ++i) {
                CHECK(line.break_off[i] - line.break_on[i] >= 92 * us);
                CHECK(line.first_bit[i] - line.break_off[i] >= 12 * us);
                CHECK(line.first_bit[i] - line.break_off[i] < 1000000 * us);
            }
            for (std::size_t i = 1; i < 4; ++i) {
                CHECK(line.break_on[i] - line.break_on[i - 1] >= 1204 * us);
                CHECK(line.break_on[i] - line.break_on[i - 1] <= 1000000 * us);
                CHECK(line.break_on[i] >= line.last_bit[i - 1]);  // no slot is cut off
            }
        }
    }
}

TEST_CASE("a line of full packets is refreshed 40 times a second and more", "[reference][serial]") {
    CHECK(dmx_break_us_min >= 92);
    CHECK(dmx_mark_us >= dmx_mark_us_min);
    Line line;
    send(*dmx_output(std::make_unique<LinePort>(line), 0), 2);
    const std::uint64_t apart = line.break_on[1] - line.break_on[0];
    CHECK(apart == (176 + 16 + 513 * slot_us + 200) * us);  // 22 964 microseconds: 43.5 a second
    CHECK(apart <= 25000 * us);
}

TEST_CASE("a line without new frames is refreshed within a second", "[reference][serial]") {
    const Supervision how = serial_supervision();
    CHECK(how.repeat_after > 0);
    CHECK(how.repeat_after + 2 * 25000 * us <= 1000000 * us);
}
