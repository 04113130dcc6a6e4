#include "runtime/control/midi.hpp"

#include <catch2/catch.hpp>
#include <fmt/format.h>

#include "runtime/timecode.hpp"
#include "tests/support/heard.hpp"

using namespace tallow;
using namespace tallow::runtime;

namespace {

using Bytes = std::vector<std::uint8_t>;

// Every message that a stream gives for these bytes.
std::vector<Bytes> messages(const Bytes& bytes) {
    MidiStream stream;
    std::vector<Bytes> all;
    for (const std::uint8_t b : bytes)
        if (const auto m = stream.take(b); !m.empty()) all.emplace_back(m.begin(), m.end());
    return all;
}

struct Port {
    explicit Port(MidiOptions options = {}) : reader(std::move(options)) {}
    void take(const Bytes& bytes) { reader.read(7, bytes, "MIDI a", heard); }
    MidiReader reader;
    test::Heard heard;
};

Bytes show_control(std::uint8_t command, std::string_view data, std::uint8_t device = 0x7f,
                   std::uint8_t format = 1) {
    Bytes bytes{0xf0, 0x7f, device, 2, format, command};
    bytes.insert(bytes.end(), data.begin(), data.end());
    bytes.push_back(0xf7);
    return bytes;
}

// Piece n of a label's quarter frames.
std::uint8_t piece(unsigned n, std::string_view label, TimecodeRate rate) {
    const auto part = [&](std::size_t at) {
        return static_cast<unsigned>((label[at] - '0') * 10 + label[at + 1] - '0');
    };
    const unsigned parts[] = {part(9), part(6), part(3), part(0) | static_cast<unsigned>(rate) << 5};
    return static_cast<std::uint8_t>(n << 4 | (n % 2 == 0 ? parts[n / 2] & 0xf : parts[n / 2] >> 4));
}

constexpr std::uint64_t quarter_ns = 10000000;  // at 25 frames a second

}  // namespace

TEST_CASE("MIDI messages are cut out of a stream", "[unit][midi]") {
    CHECK(messages({0x90, 60, 100, 61, 100, 0xc0, 5, 6}) ==
          std::vector<Bytes>{{0x90, 60, 100}, {0x90, 61, 100}, {0xc0, 5}, {0xc0, 6}});  // running status
    CHECK(messages({0xf8, 0x90, 0xf8, 60, 0xfe, 100, 0xff}) == std::vector<Bytes>{{0x90, 60, 100}});
    CHECK(messages({0xf0, 1, 0xf8, 2, 0xf7}) == std::vector<Bytes>{{0xf0, 1, 2, 0xf7}});
    CHECK(messages({0xf0, 0xf7}) == std::vector<Bytes>{{0xf0, 0xf7}});
    CHECK(messages({0xf1, 0x23, 0x24}) == std::vector<Bytes>{{0xf1, 0x23}});  // no running status
    CHECK(messages({0xf6, 5, 0xf2, 1, 2}) == std::vector<Bytes>{{0xf6}, {0xf2, 1, 2}});
    // A system message ends the running status, a realtime one does not.
    CHECK(messages({0x90, 60, 100, 0xf1, 0, 61, 100}) == std::vector<Bytes>{{0x90, 60, 100}, {0xf1, 0}});
    CHECK(messages({0x90, 60, 100, 0xf8, 61, 100}) == std::vector<Bytes>{{0x90, 60, 100}, {0x90, 61, 100}});
}

TEST_CASE("cut MIDI messages are left out", "[unit][midi]") {
    CHECK(messages({1, 2, 3}).empty());
    CHECK(messages({0xf7, 1}).empty());
    CHECK(messages({0x90, 60, 0x80, 60, 0}) == std::vector<Bytes>{{0x80, 60, 0}});
    CHECK(messages({0xf0, 1, 2, 0x90, 60, 100, 0xf7}) == std::vector<Bytes>{{0x90, 60, 100}});
    CHECK(messages({0xf0, 1, 0xf0, 2, 0xf7}) == std::vector<Bytes>{{0xf0, 2, 0xf7}});
    CHECK(messages({0xf0, 1, 0xf7, 0xf7}) == std::vector<Bytes>{{0xf0, 1, 0xf7}});
}

TEST_CASE("MIDI messages that are too long are left out", "[unit][midi]") {
    for (const std::size_t size : {midi_message_bytes, midi_message_bytes + 1, std::size_t{100000}}) {
        Bytes bytes(size, 1);
        bytes.front() = 0xf0;
        bytes.back() = 0xf7;
        CHECK(messages(bytes).size() == (size == midi_message_bytes ? 1u : 0u));
        bytes.insert(bytes.end(), {0x90, 60, 100});
        CHECK(messages(bytes).back() == Bytes{0x90, 60, 100});
    }
}

TEST_CASE("a note is a GO where it is said to be one", "[unit][midi]") {
    MidiOptions options;
    options.notes = {{60, ""}, {61, "side"}};
    Port port(options);
    port.take({0x90, 60, 100, 60, 0, 0x80, 60, 64, 0x95, 61, 1, 0x90, 62, 100, 0xb0, 60, 100});
    CHECK(port.heard.all == std::vector<std::string>{"go", "go side"});
    CHECK(port.heard.last_ns == 7);
    CHECK(port.heard.last_from == "MIDI a");
    options.channel = 6;
    Port sixth(options);
    sixth.take({0x90, 60, 100, 0x95, 61, 1, 0x9f, 60, 1});
    CHECK(sixth.heard.all == std::vector<std::string>{"go side"});
    Port silent;
    silent.take({0x90, 60, 100});
    CHECK(silent.heard.all.empty());
}

TEST_CASE("a note is written as a number, with a list or without", "[unit][midi]") {
    CHECK(*parse_midi_note("60") == MidiNote{60, ""});
    CHECK(*parse_midi_note("0=side") == MidiNote{0, "side"});
    for (const char* text : {"", "128", "300", "-1", "60=", "60=a b", "c4", "60 ", "=side"}) {
        INFO(text);
        CHECK_FALSE(parse_midi_note(text).ok());
    }
}

TEST_CASE("MIDI show control becomes words", "[unit][midi]") {
    MidiOptions options;
    options.device = 5;
    options.lists = {"main", "side"};
    Port port(options);
    using std::string_view;
    for (const Bytes& m :
         {show_control(1, ""), show_control(1, std::string(150, '0') + "12.50"),
          show_control(1, string_view("7\0002", 3)), show_control(1, string_view("7\0001\0003", 5)),
          show_control(1, string_view("7\0\0003", 4), 5), show_control(2, ""), show_control(3, ""),
          show_control(8, ""), show_control(9, "", 5, 0x7f)})
        port.take(m);
    CHECK(port.heard.all == std::vector<std::string>{"go", "cue 12.5", "cue 7 side", "cue 7 main", "cue 7",
                                                     "pause", "resume", "blackout on", "blackout off"});
    CHECK(port.heard.complaints.empty());
}

TEST_CASE("MIDI show control for others is not heard, and what is wrong is refused", "[unit][midi]") {
    MidiOptions options;
    options.lists = {"main"};
    using std::string_view;
    Port port(options);
    port.take(show_control(1, "", 6));
    port.take(show_control(1, "", 0x7f, 0x10));    // sound
    port.take({0xf0, 0x7f, 0x7f, 2, 1, 0xf7});     // cut
    port.take({0xf0, 0x7f, 0x7f, 6, 1, 1, 0xf7});  // machine control
    CHECK(port.heard.complaints.empty());
    const auto refused = [&](const Bytes& m, const std::string& part) {
        Port one(options);
        one.take(m);
        CHECK(one.heard.all.empty());
        REQUIRE(one.heard.complaints.size() == 1);
        INFO(one.heard.complaints[0]);
        CHECK(one.heard.complaints[0].find(part) != std::string::npos);
    };
    refused(show_control(1, "x"), "its cue is no number");
    refused(show_control(1, "1.2.3"), "its cue is no number");
    refused(show_control(1, "5 side"), "its cue is no number");
    refused(show_control(1, string_view("\0002", 2)), "its cue is no number");
    refused(show_control(1, string_view("7\0002", 3)), "from 1 to 1");
    refused(show_control(1, string_view("7\0000", 3)), "from 1 to 1");
    refused(show_control(1, string_view("7\000side", 6)), "from 1 to 1");
    refused(show_control(2, "5"), "for the whole show");
    refused(show_control(4, "5"), "command 04 is none of");
    CHECK(port.heard.all.empty());
}

TEST_CASE("quarter frames of timecode give a label after eight, dated to the first",
          "[unit][midi][timecode]") {
    Mtc mtc;
    const auto rate = TimecodeRate::f25;
    std::uint64_t ns = 1000000000;
    std::vector<TimecodeFrame> frames;
    for (const char* label : {"01:02:03:04", "01:02:03:06"})
        for (unsigned n = 0; n < 8; ++n, ns += quarter_ns)
            if (const auto f = mtc.take(ns, Bytes{0xf1, piece(n, label, rate)})) frames.push_back(*f);
    const std::uint64_t at = *parse_timecode("01:02:03:04", rate);
    CHECK(frames ==
          std::vector<TimecodeFrame>{{1000000000, at, rate}, {1000000000 + 8 * quarter_ns, at + 2, rate}});
}

TEST_CASE("quarter frames give every label and rate", "[unit][midi][timecode]") {
    for (const TimecodeRate rate :
         {TimecodeRate::f24, TimecodeRate::f25, TimecodeRate::drop, TimecodeRate::f30}) {
        Mtc mtc;
        for (std::uint64_t frame = 0; frame < frames_per_day(rate); frame += 9973) {
            const std::string label = format_timecode(frame, rate);
            std::optional<TimecodeFrame> got;
            for (unsigned n = 0; n < 8; ++n) got = mtc.take(n, Bytes{0xf1, piece(n, label, rate)});
            if (!got || got->frame != frame || got->rate != rate) FAIL_CHECK(label);
        }
    }
}

TEST_CASE("quarter frames that begin in the middle wait for a whole label", "[unit][midi][timecode]") {
    Mtc mtc;
    const auto rate = TimecodeRate::f25;
    std::uint64_t ns = 0;
    const auto send = [&](unsigned from, unsigned to, const char* label) {
        unsigned labels = 0;
        for (unsigned n = from; n < to; ++n, ns += quarter_ns)
            labels += mtc.take(ns, Bytes{0xf1, piece(n, label, rate)}).has_value();
        return labels;
    };
    CHECK(send(3, 8, "01:00:00:00") == 0);
    CHECK(send(0, 8, "01:00:00:02") == 1);
    CHECK(send(0, 4, "01:00:00:04") == 0);
    ns += 1000000000;  // the tape stops, and goes on elsewhere
    CHECK(send(4, 8, "02:00:00:00") == 0);
    CHECK(send(0, 3, "02:00:00:02") + send(4, 8, "02:00:00:02") == 0);  // one is missing
    CHECK(send(0, 8, "02:00:00:04") == 1);
    CHECK(send(0, 8, "25:00:00:00") == 0);  // no hour of a day
}

TEST_CASE("quarter frames that run backwards give the label at its piece 0", "[unit][midi][timecode]") {
    Mtc mtc;
    const auto rate = TimecodeRate::f30;
    std::uint64_t ns = 0;
    std::vector<std::string> labels;
    const auto take = [&](unsigned n, const char* label) {
        if (const auto f = mtc.take(ns += quarter_ns, Bytes{0xf1, piece(n, label, rate)})) {
            labels.push_back(format_timecode(f->frame, rate));
            CHECK(f->ns == ns);
        }
    };
    for (const char* label : {"10:20:30:10", "10:20:30:08"})
        for (unsigned n = 8; n-- > 0;) take(n, label);
    CHECK(labels == std::vector<std::string>{"10:20:30:10", "10:20:30:08"});
    // It turns within a label: none before eight in a row.
    labels.clear();
    for (const unsigned n : {7u, 6u, 5u, 6u, 7u, 0u}) take(n, "10:20:30:06");
    CHECK(labels.empty());
}

TEST_CASE("a MIDI port that is not there is told of", "[unit][midi]") {
    struct : Clock {
        std::uint64_t now() override { return 0; }
        void wait(std::uint64_t) override {}
    } clock;
    MidiOptions options;
    options.port = "no port has this in its name";
    const auto port = open_midi(options, clock);
    REQUIRE_FALSE(port.ok());
    CHECK(port.why().find("MIDI port") != std::string::npos);
}
