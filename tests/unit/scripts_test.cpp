// Text of any script on its way from the show to the roll.
#include <catch2/catch.hpp>

#include "runtime/roll/roll_io.hpp"
#include "tests/suite/page.hpp"

using namespace tallow;

namespace {

runtime::Roll roll_of(const std::string& text) {
    const auto compiled = test::compile_text(text, {});
    REQUIRE(compiled->sink.sorted().empty());
    return command::make_roll(*compiled);
}

}  // namespace

TEST_CASE("labels and names of any script reach the roll as they are", "[unit][show]") {
    const runtime::Roll roll = roll_of(
        "show \"灯台の \\\"夕べ\\\"\"\npatch 1/1\n    हिन्दी dimmer\n    يمين dimmer\n"
        "cue 1 \"أول ضوء\"\n    all full\ncue 2 \"Ἀρχή \\\\ τέλος\"\n    all out\n");
    CHECK(roll.title == "灯台の \"夕べ\"");
    REQUIRE(roll.cues.size() == 2);
    CHECK(roll.cues[0].label == "أول ضوء");
    CHECK(roll.cues[1].label == "Ἀρχή \\ τέλος");
    REQUIRE(roll.parameters.key.size() == 2);
    CHECK(roll.parameters.key[0] == "हिन्दी/intensity");
    CHECK(roll.parameters.key[1] == "يمين/intensity");
}

// Unicode Standard Annex 15: canonically equivalent sequences have one normal form. Composed on the left; on
// the right letters with combining marks, two marks in either order, and Hangul as single letters.
TEST_CASE("names that are canonically equivalent give the same roll", "[unit][show]") {
    const auto show = [](const std::string& name) {
        return "patch 1/1\n    " + name + " 1..2 dimmer\ncue 1\n    " + name + " 1 50%\n";
    };
    const std::pair<const char*, const char*> pairs[] = {
        {"caf\u00e9", "cafe\u0301"},      {"\u1e69ol", "s\u0307\u0323ol"}, {"\u1e69ol", "s\u0323\u0307ol"},
        {"\ud55c", "\u1112\u1161\u11ab"}, {"\u0929a", "\u0928\u093ca"},
    };
    for (const auto& [composed, apart] : pairs) {
        INFO(composed);
        CHECK(runtime::write_roll(roll_of(show(composed))) == runtime::write_roll(roll_of(show(apart))));
        std::string mixed = show(composed);
        const std::string name = composed;
        mixed.replace(mixed.rfind(name), name.size(), apart);
        CHECK(runtime::write_roll(roll_of(mixed)) == runtime::write_roll(roll_of(show(composed))));
    }
}
