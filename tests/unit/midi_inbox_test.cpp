#include "runtime/control/midi_inbox.hpp"

#include <catch2/catch.hpp>
#include <poll.h>
#include <thread>

#include "tests/support/heard.hpp"

using namespace tallow;
using namespace tallow::runtime;

namespace {

bool ready(int fd, int ms) {
    pollfd p{fd, POLLIN, 0};
    return ::poll(&p, 1, ms) == 1;
}

MidiReader cue_reader() {
    MidiOptions options;
    options.notes = {{60, ""}};
    return MidiReader(options);
}

}  // namespace

TEST_CASE("what a MIDI port's thread puts in is read on another, in order and with its times",
          "[unit][midi]") {
    MidiInbox inbox;
    REQUIRE(inbox.open().ok());
    MidiReader reader = cue_reader();
    test::Heard heard;
    constexpr std::uint64_t labels = 200;  // Linux's pipes hold these
    std::thread port([&] {
        for (std::uint64_t n = 0; n < labels; ++n) {
            const std::uint8_t full_frame[] = {0xf0,
                                               0x7f,
                                               0x7f,
                                               1,
                                               1,
                                               0x20,
                                               0,
                                               static_cast<std::uint8_t>(n / 25),
                                               static_cast<std::uint8_t>(n % 25),
                                               0xf7};
            inbox.put(1000 + n, full_frame);
        }
    });
    while (heard.frames.size() < labels && ready(inbox.descriptor(), 2000)) inbox.read(reader, "MIDI", heard);
    port.join();
    REQUIRE(heard.frames.size() == labels);
    for (std::uint64_t n = 0; n < labels; ++n) {
        CHECK(heard.frames[n].frame == n);
        CHECK(heard.frames[n].ns == 1000 + n);
    }
}

TEST_CASE("an inbox that nobody reads neither waits nor breaks", "[unit][midi]") {
    MidiInbox inbox;
    REQUIRE(inbox.open().ok());
    CHECK_FALSE(ready(inbox.descriptor(), 0));
    const std::uint8_t note[] = {0x90, 60, 100};
    for (int n = 0; n < 100000; ++n) inbox.put(1, note);
    MidiReader reader = cue_reader();
    test::Heard heard;
    while (ready(inbox.descriptor(), 0)) inbox.read(reader, "MIDI", heard);
    CHECK(heard.all.size() > 8);
    CHECK(heard.all.size() < 100000);
    inbox.put(1, std::vector<std::uint8_t>(midi_message_bytes + 1, 0xf0));
    CHECK_FALSE(ready(inbox.descriptor(), 0));
    inbox.put(2, note);
    CHECK(ready(inbox.descriptor(), 0));
}
