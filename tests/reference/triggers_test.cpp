// Bytes of MIDI timecode, MIDI show control and OSC 1.0 as their standards have them (second-hand: the
// documents were not read).
#include <catch2/catch.hpp>

#include "runtime/control/midi.hpp"
#include "runtime/control/osc_packet.hpp"
#include "runtime/timecode.hpp"
#include "tests/support/heard.hpp"

namespace tallow {
namespace {

using namespace runtime;

test::Heard heard(const Bytes& bytes) {
    MidiReader reader({});
    test::Heard all;
    reader.read(0, bytes, "MIDI", all);
    return all;
}

TEST_CASE("OSC's `/go` with 5 has its bytes, both ways", "[reference][osc]") {
    const Bytes bytes{0x2f, 0x67, 0x6f, 0x00, 0x2c, 0x69, 0x00, 0x00, 0x00, 0x00, 0x00, 0x05};
    const OscMessage go{"/go", {osc_integer(5)}};
    CHECK(*osc_bytes(go) == bytes);
    CHECK(read_osc(bytes)->at(0) == go);
}

// The two examples of the specification of OSC 1.0, from memory: `/oscillator/4/frequency` with 440.0, and
// `/foo` with 1000, −1, "hello", 1.234, 5.678.
TEST_CASE("the examples of OSC 1.0 are read", "[reference][osc]") {
    using Kind = OscArgument::Kind;
    const std::string_view oscillator("/oscillator/4/frequency\0,f\0\0\x43\xdc\0\0", 32);
    const auto first = read_osc(as_bytes(oscillator));
    REQUIRE(first.ok());
    CHECK(first->at(0) == OscMessage{"/oscillator/4/frequency", {{Kind::fraction, 44000000, {}}}});
    const std::string_view foo(
        "/foo\0\0\0\0,iisff\0\0\0\0\x03\xe8\xff\xff\xff\xffhello\0\0\0\x3f\x9d\xf3\xb6\x40\xb5\xb2\x2d", 40);
    const auto second = read_osc(as_bytes(foo));
    REQUIRE(second.ok());
    CHECK(second->at(0) == OscMessage{"/foo",
                                      {osc_integer(1000),
                                       osc_integer(-1),
                                       osc_text("hello"),
                                       {Kind::fraction, 123400, {}},
                                       {Kind::fraction, 567800, {}}}});
}

TEST_CASE("a full frame of MIDI timecode", "[reference][midi][timecode]") {
    const auto all = heard({0xf0, 0x7f, 0x7f, 0x01, 0x01, 0x61, 0x1e, 0x23, 0x14, 0xf7});
    REQUIRE(all.frames.size() == 1);
    CHECK(all.frames[0].rate == TimecodeRate::f30);
    CHECK(all.frames[0].located);
    CHECK(format_timecode(all.frames[0].frame, TimecodeRate::f30) == "01:30:35:20");
}

// F1 0nnndddd: 01:30:35:20 at 30 is frames 14, seconds 23, minutes 1E, hours 61, lower half first.
TEST_CASE("quarter frames of MIDI timecode", "[reference][midi][timecode]") {
    const auto all = heard(
        {0xf1, 0x04, 0xf1, 0x11, 0xf1, 0x23, 0xf1, 0x32, 0xf1, 0x4e, 0xf1, 0x51, 0xf1, 0x61, 0xf1, 0x76});
    REQUIRE(all.frames.size() == 1);
    CHECK_FALSE(all.frames[0].located);
    CHECK(format_timecode(all.frames[0].frame, all.frames[0].rate) == "01:30:35:20");
}

TEST_CASE("MIDI show control for lighting: GO, STOP, RESUME", "[reference][midi]") {
    CHECK(heard({0xf0, 0x7f, 0x00, 0x02, 0x01, 0x01, 0xf7}).all == std::vector<std::string>{"go"});
    CHECK(heard({0xf0, 0x7f, 0x7f, 0x02, 0x01, 0x01, 0x31, 0x32, 0x2e, 0x35, 0xf7}).all ==
          std::vector<std::string>{"cue 12.5"});
    CHECK(heard({0xf0, 0x7f, 0x7f, 0x02, 0x01, 0x02, 0xf7}).all == std::vector<std::string>{"pause"});
    CHECK(heard({0xf0, 0x7f, 0x7f, 0x02, 0x01, 0x03, 0xf7}).all == std::vector<std::string>{"resume"});
}

}  // namespace
}  // namespace tallow
