#include "runtime/control/osc_words.hpp"

#include <algorithm>
#include <bit>
#include <catch2/catch.hpp>

#include "runtime/play/command.hpp"
#include "tests/support/simple_roll.hpp"

using namespace tallow;
using namespace tallow::runtime;

namespace {

OscArgument fraction(float f) {
    const auto n = osc_fraction32(std::bit_cast<std::uint32_t>(f));
    REQUIRE(n);
    return {OscArgument::Kind::fraction, *n, {}};
}

OscArgument truth(bool on) {
    return {OscArgument::Kind::truth, on, {}};
}

std::string words(const std::string& address, const std::vector<OscArgument>& arguments = {}) {
    const auto said = osc_words({address, arguments});
    INFO(address << ": " << said.why());
    REQUIRE(said.ok());
    return *said;
}

std::string refused(const std::string& address, const std::vector<OscArgument>& arguments = {}) {
    const auto said = osc_words({address, arguments});
    INFO(address);
    REQUIRE_FALSE(said.ok());
    return said.why();
}

bool has(const std::string& text, const std::string& part) {
    return text.find(part) != std::string::npos;
}

}  // namespace

TEST_CASE("each OSC address becomes the words of its command", "[unit][osc]") {
    CHECK(words("/tallow/go") == "go");
    CHECK(words("/tallow/go", {osc_text("side")}) == "go side");
    CHECK(words("/tallow/go", {osc_text("lumière")}) == "go lumière");
    CHECK(words("/tallow/back") == "back");
    CHECK(words("/tallow/back", {osc_text("side")}) == "back side");
    CHECK(words("/tallow/cue", {osc_integer(5)}) == "cue 5");
    CHECK(words("/tallow/cue", {fraction(12.1f)}) == "cue 12.1");
    CHECK(words("/tallow/cue", {osc_text("12.5"), osc_text("side")}) == "cue 12.5 side");
    CHECK(words("/tallow/submaster/3", {fraction(0.5f)}) == "submaster 3 50%");
    CHECK(words("/tallow/submaster/3", {fraction(1.0f / 3)}) == "submaster 3 33.333%");
    CHECK(words("/tallow/grand", {fraction(0.8f)}) == "grand 80%");
    CHECK(words("/tallow/grand", {osc_integer(1)}) == "grand 100%");
    CHECK(words("/tallow/grand", {osc_integer(0)}) == "grand 0%");
    CHECK(words("/tallow/pause") == "pause");
    CHECK(words("/tallow/resume") == "resume");
    CHECK(words("/tallow/hold") == "hold");
    CHECK(words("/tallow/hold", {osc_text("side")}) == "hold side");
    CHECK(words("/tallow/stop") == "stop");
    CHECK(words("/tallow/stop", {fraction(2.5f)}) == "stop 2.5s");
    CHECK(words("/tallow/stop", {osc_integer(0)}) == "stop 0s");
    CHECK(words("/tallow/stop", {osc_text("side"), osc_integer(4)}) == "stop side 4s");
    CHECK(words("/tallow/blackout") == "blackout");
    CHECK(words("/tallow/blackout", {osc_integer(1)}) == "blackout on");
    CHECK(words("/tallow/blackout", {fraction(0)}) == "blackout off");
    CHECK(words("/tallow/panic", {truth(true)}) == "panic on");
    CHECK(words("/tallow/timecode", {osc_text("01:00:00:00")}) == "timecode 01:00:00:00");
}

TEST_CASE("the player understands the words that OSC gives", "[unit][osc]") {
    Roll roll = test::rig({Kind::intensity});
    test::add_cue(roll, {}, {{0, full}}).number = 12500;
    test::add_list(roll, "side");
    test::add_cue(roll, {}, {{0, full}}).number = 1000;
    roll.submasters.emplace_back().number = 3;
    const std::string said[] = {words("/tallow/go", {osc_text("side")}),
                                words("/tallow/cue", {fraction(12.5f)}),
                                words("/tallow/submaster/3", {fraction(1.0f / 3)}),
                                words("/tallow/stop", {osc_text("side"), fraction(0.25f)}),
                                words("/tallow/panic", {truth(false)}),
                                words("/tallow/timecode", {osc_text("01:00:00:00")})};
    for (const std::string& one : said) {
        INFO(one);
        const auto command = parse_command(one, roll);
        INFO(command.why());
        CHECK(command.ok());
    }
    CHECK(parse_command(said[3], roll)->ms == 250);
}

TEST_CASE("a button that is let go of does nothing", "[unit][osc]") {
    for (const char* address :
         {"/tallow/go", "/tallow/back", "/tallow/hold", "/tallow/pause", "/tallow/resume"}) {
        CHECK(words(address, {osc_integer(0)}).empty());
        CHECK(words(address, {truth(false)}).empty());
        CHECK(has(address, words(address, {fraction(1)})));
    }
}

TEST_CASE("OSC arguments that are not meant are refused with what is", "[unit][osc]") {
    CHECK(has(refused("/tallow/go", {osc_integer(5)}), "`/tallow/cue` with its number"));
    CHECK(has(refused("/tallow/go", {osc_text("a"), osc_text("b")}), "name of a cue list"));
    CHECK(has(refused("/tallow/pause", {osc_text("side")}), "no argument"));
    CHECK(has(refused("/tallow/cue"), "a cue's number"));
    CHECK(has(refused("/tallow/cue", {osc_integer(-1)}), "a cue's number"));
    CHECK(has(refused("/tallow/cue", {osc_integer(5), osc_integer(6)}), "a cue's number"));
    CHECK(has(refused("/tallow/cue", {osc_integer(std::int64_t{1} << 62)}), "a cue's number"));
    CHECK(has(refused("/tallow/grand"), "one level, from 0 to 1"));
    CHECK(has(refused("/tallow/grand", {fraction(1.01f)}), "one level, from 0 to 1"));
    CHECK(has(refused("/tallow/grand", {fraction(-0.5f)}), "one level, from 0 to 1"));
    CHECK(has(refused("/tallow/grand", {osc_integer(50)}), "one level, from 0 to 1"));
    CHECK(has(refused("/tallow/grand", {osc_text("full")}), "one level, from 0 to 1"));
    CHECK(has(refused("/tallow/stop", {osc_integer(-1)}), "seconds"));
    CHECK(has(refused("/tallow/stop", {osc_integer(1), osc_text("side")}), "in this order"));
    CHECK(has(refused("/tallow/blackout", {osc_integer(2)}), "1 or 0"));
    CHECK(has(refused("/tallow/timecode", {osc_integer(1)}), "one label"));
    CHECK(has(refused("/tallow/submaster/", {osc_integer(1)}), "there are"));
    CHECK(has(refused("/tallow/submaster/1x", {osc_integer(1)}), "there are"));
    CHECK(has(refused("/tallow/submaster/12345678901", {osc_integer(1)}), "there are"));
    CHECK(has(refused("/tallow/nothing"), "there are `/tallow/go`"));
    CHECK(has(refused("/go", {osc_integer(5)}), "begin with `/tallow/`"));
    for (const char* pattern : {"/tallow/submaster/*", "/tallow/{go,back}", "/tallow/g?", "/tallow/[g]o"})
        CHECK(has(refused(pattern, {osc_integer(0)}), "patterns are not matched"));
}

TEST_CASE("text in OSC cannot say more than one word, nor steer a terminal", "[unit][osc]") {
    for (const char* text :
         {"side go", "", "a\tb", "a\x1b[2J", "a\x7f",
          "\xc2\x9b"
          "2J",
          "\xff", "\xc3", "\xc0\xaf", "\xed\xa0\x80", "\xe2\x80", "\xf4\x90\x80\x80", "\xc2\xa0"})
        CHECK_FALSE(osc_words({"/tallow/go", {osc_text(text)}}).ok());
    CHECK_FALSE(osc_words({"/tallow/go", {osc_text(std::string(101, 'a'))}}).ok());
    CHECK(words("/tallow/go", {osc_text("\xe4\xb8\xbb\xf0\x9f\x8e\xad")}) ==
          "go \xe4\xb8\xbb\xf0\x9f\x8e\xad");
    const std::string why = refused("/tallow/\x1b]0;x\x07" + std::string(500, 'y'));
    CHECK(std::all_of(why.begin(), why.end(), [](char c) { return c >= ' ' && c < 0x7f; }));
    CHECK(why.size() < 400);
}
