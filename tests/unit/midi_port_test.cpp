// A real port of the system's sequencer, where the player was built with RtMidi and the machine has one.
#ifdef TALLOW_HAS_MIDI
#include <RtMidi.h>
#include <algorithm>
#include <catch2/catch.hpp>
#include <poll.h>

#include "runtime/control/midi.hpp"
#include "tests/support/command.hpp"
#include "tests/support/heard.hpp"
#include "tests/support/made_frames.hpp"

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

// Without a sequencer the libraries write lines of their own; with one there is no such port.
TEST_CASE("a MIDI port that is not there is told in one sentence of ours", "[unit][midi]") {
    const std::string file = test::scratch("midi_port.frames");
    test::write_made(test::made_show(51, {{1, 24}}, 10), file);
    const auto ran = test::run("timeout 10 " + test::quoted(TALLOW_PLAY_COMMAND) + " " + test::quoted(file) +
                               " --null --midi 'no such port'");
    CHECK(ran.code == 2);
    CHECK_THAT(ran.out, Catch::StartsWith("tallow-play: in `--midi`: "));
    CHECK(std::count(ran.out.begin(), ran.out.end(), '\n') == 1);
    CHECK_THAT(ran.out, !Catch::Contains(".;"));
}
#endif
