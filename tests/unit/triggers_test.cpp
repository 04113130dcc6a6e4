#include "runtime/control/triggers.hpp"

#include <catch2/catch.hpp>

#include "tests/support/simple_roll.hpp"

using namespace tallow;
using namespace tallow::runtime;

namespace {

Roll show() {
    Roll roll = test::rig({Kind::intensity});
    test::add_list(roll, "side");
    return roll;
}

std::string refused(const TriggerText& text) {
    const Roll roll = show();
    const auto clock = system_clock();
    const auto opened = open_triggers(text, roll, *clock);
    REQUIRE_FALSE(opened.ok());
    return opened.why();
}

void has(const std::string& text, const std::string& part) {
    INFO(text);
    CHECK(text.find(part) != std::string::npos);
}

TriggerText midi(const std::string& port = "no such port") {
    TriggerText text;
    text.midi = port;
    return text;
}

}  // namespace

TEST_CASE("without options no way in is open", "[unit][triggers]") {
    const Roll roll = show();
    const auto clock = system_clock();
    const auto opened = open_triggers({}, roll, *clock);
    REQUIRE(opened.ok());
    CHECK(opened->empty());
}

TEST_CASE("each `--osc` opens a way in", "[unit][triggers]") {
    const Roll roll = show();
    const auto clock = system_clock();
    TriggerText text;
    text.osc = {"127.0.0.2:27713", "127.0.0.3:27713"};
    text.osc_secret = "word";
    const auto opened = open_triggers(text, roll, *clock);
    INFO(opened.why());
    REQUIRE(opened.ok());
    REQUIRE(opened->size() == 2);
    CHECK(opened->at(0)->name() == "OSC on 127.0.0.2:27713");
    CHECK(opened->at(1)->name() == "OSC on 127.0.0.3:27713");
    CHECK(refused(text).starts_with("in `--osc`: cannot listen for OSC on 127.0.0.2 port 27713"));
}

TEST_CASE("options of other machines that are wrong are refused by name", "[unit][triggers]") {
    TriggerText text;
    text.osc = {"somewhere"};
    has(refused(text), "in `--osc`: `somewhere` is no place");
    text = {};
    text.osc_secret = "word";
    has(refused(text), "in `--osc-secret`: there is no `--osc`");
    text = {};
    text.midi_device = "1";
    has(refused(text), "in `--midi-device`: there is no `--midi`");
    text = {};
    text.timecode_lost = "hold";
    has(refused(text), "in `--timecode-lost`: there is no `--midi`, so that no timecode comes");
    text = midi();
    text.midi_go = {"60", "200"};
    has(refused(text), "in `--midi-go`: `200` is no note");
    text.midi_go = {"60=sides"};
    has(refused(text), "has no cue list `sides`; it has `main`, `side`");
    for (const char* channel : {"0", "17", "x", "1x"}) {
        text = midi();
        text.midi_channel = channel;
        has(refused(text), "is no number from 1 to 16");
    }
    text = midi();
    text.midi_device = "112";
    has(refused(text), "is no number from 0 to 111");
    text = midi();
    text.midi_go = {"60=side"};
    text.midi_channel = "16";
    text.midi_device = "111";
    has(refused(text), "in `--midi`: ");  // the options are right, and the port is not there
}

TEST_CASE("what happens without timecode is said in a word", "[unit][triggers]") {
    TriggerText text;
    CHECK(*runs_on(text));
    text.timecode_lost = "run-on";
    CHECK(*runs_on(text));
    text.timecode_lost = "hold";
    CHECK_FALSE(*runs_on(text));
    text.timecode_lost = "stop";
    CHECK(runs_on(text).why() ==
          "in `--timecode-lost`: `stop` is neither `run-on` nor `hold`; write one of them");
}
