// A real port of the system's sequencer, where the player was built with RtMidi and the machine has one.
#ifdef TALLOW_HAS_MIDI
#include <RtMidi.h>
#include <catch2/catch.hpp>
#include <poll.h>

#include "runtime/control/midi.hpp"
#include "tests/support/heard.hpp"

using namespace tallow;
using namespace tallow::runtime;

TEST_CASE("a MIDI port of this machine is heard", "[unit][midi]") {
    std::unique_ptr<RtMidiOut> out;
    try {
        out = std::make_unique<RtMidiOut>(RtMidi::LINUX_ALSA, "Tallow test");
        out->openVirtualPort("out of the test");
    } catch (const RtMidiError& error) {
        WARN("skipped: this machine has no MIDI sequencer: " << error.getMessage());
        return;
    }
    const auto clock = system_clock();
    MidiOptions options;
    options.port = "out of the test";
    const auto port = open_midi(options, *clock);
    INFO(port.why());
    REQUIRE(port.ok());
    const std::vector<unsigned char> go{0xf0, 0x7f, 0x7f, 2, 1, 1, '5', 0xf7};
    out->sendMessage(&go);
    pollfd p{(*port)->descriptor(), POLLIN, 0};
    REQUIRE(::poll(&p, 1, 2000) == 1);
    test::Heard heard;
    (*port)->read(heard);
    CHECK(heard.all == std::vector<std::string>{"cue 5"});
}
#endif
