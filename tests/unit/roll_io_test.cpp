#include "runtime/roll/roll_io.hpp"

#include <catch2/catch.hpp>
#include <functional>

#include "runtime/files.hpp"
#include "runtime/limits.hpp"
#include "tests/support/random_roll.hpp"

using namespace tallow;
using namespace tallow::runtime;

namespace {

// Two lamps and a pan in one universe, one of the lamps a virtual intensity over a red slot; one wave, one
// cue.
Roll small_roll() {
    Roll roll;
    roll.title = "The \"Winter\" Ferry\n";
    roll.by = "Zoë \\ Co";
    roll.universes = {{1, 512}, {7, 64}};
    roll.parameters = {{"lamp/1/intensity", "par/1/intensity", "par/1/red", "mover/1/pan"},
                       {0, none, 0, 1},
                       {1, 0, 2, 4},
                       {0, 0, 0, 3},
                       {0, 0, full, 32768},
                       {Kind::intensity, Kind::intensity, Kind::colour, Kind::position},
                       {none, none, 1, none}};
    roll.waveforms = {{},
                      {Waveform::Shape::segments, {{0, 65535, 65535}, {Phase{1} << 62, 0, 0}}, 0},
                      {Waveform::Shape::flicker, {}, ~std::uint64_t{0}}};
    Wave wave;
    wave.waveform = 1;
    wave.parameter = {0, 3};
    wave.low = {0, -500};
    wave.high = {full, 500};
    wave.offset = {0, ~Phase{0}};
    wave.member = {0, 1};
    roll.waves = {wave};
    Cue cue;
    cue.number = 2500;
    cue.label = "First light";
    cue.next = Next::follow;
    cue.next_ms = 250;
    cue.complete_ms = 3000;
    cue.intensity = {0, 3000, 1500, Curve::visual};
    cue.starts = {0};
    cue.sets = {{{0, 3000, 1500, Curve::ease}, {{0, {full, 1000}, {0, none}}, {3, {30000}, {}}}}};
    roll.cues = {cue};
    roll.lists = {{"main", 0, 1}};
    return roll;
}

const std::string small_text =
    R"({"roll":1,"title":"The \"Winter\" Ferry\u000a","by":"Zoë \\ Co","refresh":40,
"universes":{"number":[1,7],"slots":[512,64]},
"parameters":{"key":["lamp/1/intensity","par/1/intensity","par/1/red","mover/1/pan"],"universe":[0,-1,0,1],"coarse":[1,0,2,4],"fine":[0,0,0,3],"home":[0,0,65535,32768],"kind":[0,0,1,2],"under":[-1,-1,1,-1]},
"waveforms":[
{"shape":0,"seed":0,"start":[],"from":[],"to":[]},
{"shape":1,"seed":0,"start":[0,4611686018427387904],"from":[65535,0],"to":[65535,0]},
{"shape":2,"seed":18446744073709551615,"start":[],"from":[],"to":[]}],
"waves":[
{"waveform":1,"period":1000,"continues":-1,"parameter":[0,3],"low":[0,-500],"high":[65535,500],"offset":[0,18446744073709551615],"member":[0,1]}],
"timecode_rate":1,
"lists":[
{"name":"main","first":0,"count":1}],
"cues":[
{"number":2500,"label":"First light","on":"","note":"","page":"","next":1,"next_ms":250,"complete_ms":3000,"intensity":[0,3000,1500,2],"colour":[0,0,0,0],"position":[0,0,0,0],"beam":[0,0,0,0],"starts":[0],"sets":[{"timing":[0,3000,1500,1],"runs":[0,2,65535,1000,3,1,30000],"waves":[0,0,-1]}]}],
"pictures":[]}
)";

// Why the text is refused once `from` in it is replaced by `to`; empty when it is read.
std::string refusal(std::string_view from, std::string_view to) {
    std::string text = small_text;
    const auto at = text.find(from);
    REQUIRE(at != std::string::npos);
    return read_roll(text.replace(at, from.size(), to)).why();
}

std::string invalid(const std::function<void(Roll&)>& spoil) {
    Roll roll = small_roll();
    spoil(roll);
    return validate(roll).why();
}

}  // namespace

TEST_CASE("a roll is written in its fixed order", "[unit][roll]") {
    CHECK(write_roll(small_roll()) == small_text);
}

TEST_CASE("a roll that was written reads back as it was", "[unit][roll]") {
    const auto check = [](const Roll& roll) {
        const std::string text = write_roll(roll);
        const Result<Roll> read = read_roll(text);
        REQUIRE(read.why() == "");
        CHECK(read->title == roll.title);
        CHECK(read->universes == roll.universes);
        CHECK(read->parameters.under == roll.parameters.under);
        CHECK(read->waveforms == roll.waveforms);
        CHECK(read->waves == roll.waves);
        CHECK(read->cues == roll.cues);
        CHECK(read->pictures == roll.pictures);
        CHECK(write_roll(*read) == text);
    };
    check(small_roll());
    Roll empty;
    empty.lists = {{"main", 0, 0}};
    check(empty);
    for (std::uint64_t seed = 1; seed <= 60; ++seed) check(test::random_roll(seed).roll);
}

TEST_CASE("a refusal names the key and the byte", "[unit][roll]") {
    CHECK(refusal("\"slots\":[512,64]", "\"slots\":[512,640]") ==
          "cannot read the roll at `universes.slots[1]`, byte 124: 640 is not in 0 to 512; build it again "
          "from its show");
    CHECK(refusal("1000,3,1,", "70000,3,1,") ==
          "cannot read the roll at `cues[0].sets[0].runs[3]`, byte 1052: 70000 is not in 0 to 65535; "
          "build it again from its show");
}

TEST_CASE("text that is not a roll is refused", "[unit][roll]") {
    const auto [from, to, why] = GENERATE(table<const char*, const char*, const char*>({
        {"\"roll\":1", "\"roll\":2", "this is version 2, and this program reads version 1"},
        {"\"title\":", "\"tilte\":", "the key `tilte` is unknown"},
        {"\"by\":", "\"title\":", "the key `title` is there twice, or too late"},
        {"\"by\":", "\"refresh\":", "the key `refresh` stands where `by` is missing"},
        {",\n\"pictures\":[]", "", "the key `pictures` is missing"},
        {"\"refresh\":40", "\"refresh\":40.0", "a number that is not whole"},
        {"\"refresh\":40", "\"refresh\":45", "45 is not in 1 to 44"},
        {"\"refresh\":40", "\"refresh\":\"40\"", "a text does not belong here"},
        {"\"refresh\":40", "\"refresh\":[[[[40]]]]", "a list does not belong here"},
        {"\"refresh\":40", "\"refresh\":{}", "an object does not belong here"},
        {"\"refresh\":40", "\"refresh\":null", "null does not belong here"},
        {"\"refresh\":40", "\"refresh\":true", "true and false do not belong here"},
        {"\"by\":\"", "\"by\":7,\"x\":\"", "a number does not belong here"},
        {"18446744073709551615,\"start", "18446744073709551616,\"start", "has over 64 bits"},
        {"\"low\":[0,-500]", "\"low\":[0,-65536]", "-65536 is not in -65535 to 65535"},
        {"\"slots\":[512,64]", "\"slots\":[512]", "the columns are not of one length"},
        {"\"slots\":[512,64]", "\"slots\":[512,64,1]", "the columns are not of one length"},
        {"\"kind\":[0,0,1,2]", "\"kind\":[0,0,1,4]", "4 is not in 0 to 3"},
        {"[0,3000,1500,1]", "[0,3000,1500]", "a timing has four numbers"},
        {"[0,3000,1500,1]", "[0,3000,1500,1,0]", "there are over 4 elements"},
        {"[0,3000,1500,1]", "[0,3000,1500,3]", "3 is not in 0 to 2"},
        {"\"runs\":[0,2,", "\"runs\":[0,9,", "the last run is not whole"},
        {"\"runs\":[0,2,", "\"runs\":[0,0,", "0 is not in 1 to 4194304"},
        {"3,1,30000]", "3]", "the last run is not whole"},
        {"\"waves\":[0,0,-1]", "\"waves\":[0,0]", "the last run is not whole"},
        {"\"waves\":[0,0,-1]", "\"waves\":[2,0]", "2 is not one of the 2 runs, in order"},
        {"\"waves\":[0,0,-1]", "\"waves\":[0,0,-1,0,0,-1]", "0 is not one of the 2 runs, in order"},
        {"\"waves\":[0,0,-1]", "\"waves\":[0,0,7]", "puts wave 7 on parameter 1"},
        {"\"pictures\":[]}", "\"pictures\":[]", "this is not JSON, or it ends too soon"},
        {"\"pictures\":[]}", "\"pictures\":[]}}", "this is not JSON, or it ends too soon"},
        {"First light", "First \xff light", "this is not JSON, or it ends too soon"},
        {"\"refresh\":40", "\"refresh\":1e999", "this is not JSON, or it ends too soon"},
    }));
    CAPTURE(from, to);
    CHECK_THAT(refusal(from, to), Catch::Contains(why));
}

TEST_CASE("a text beyond the limit is refused", "[unit][roll]") {
    CHECK_THAT(refusal("First light", std::string(limits::text_bytes + 1, 'x')),
               Catch::Contains("longer than 65535 bytes"));
    CHECK(refusal("First light", std::string(limits::text_bytes, 'x')) == "");
}

TEST_CASE("a roll cut short is refused at every length", "[unit][roll]") {
    for (std::size_t n = 0; n + 2 < small_text.size(); ++n)
        CHECK_FALSE(read_roll(small_text.substr(0, n)).ok());
}

TEST_CASE("the small roll is valid, so that each spoilt one fails for its own fault", "[unit][roll]") {
    CHECK(validate(small_roll()).why() == "");
    CHECK(validate(Roll{}).why() == "`lists` is empty; a roll has one cue list at least");
}

TEST_CASE("what an engine could not play is refused", "[unit][roll]") {
    using Spoil = std::function<void(Roll&)>;
    const auto [why, spoil] = GENERATE(table<const char*, Spoil>({
        {"`title` or `by` is longer", [](Roll& r) { r.by.assign(70000, 'x'); }},
        {"`refresh` is 0", [](Roll& r) { r.refresh = 0; }},
        {"`refresh` is 45", [](Roll& r) { r.refresh = 45; }},
        {"numbers grow", [](Roll& r) { r.universes[1].number = 1; }},
        {"numbers grow", [](Roll& r) { r.universes[1].number = 64000; }},
        {"it may have 1 to 512", [](Roll& r) { r.universes[0].slots = 513; }},
        {"it may have 1 to 512", [](Roll& r) { r.universes[0].slots = 0; }},
        {"`parameters` has columns of 4 and of 3", [](Roll& r) { r.parameters.under.pop_back(); }},
        {"`parameters.key` 1 is empty", [](Roll& r) { r.parameters.key[1] = ""; }},
        {"`parameters.key` 1 is empty", [](Roll& r) { r.parameters.key[1] = r.parameters.key[0]; }},
        {"`parameters.universe` 0 is 2", [](Roll& r) { r.parameters.universe[0] = 2; }},
        {"only an intensity without slots", [](Roll& r) { r.parameters.universe[2] = none; }},
        {"only an intensity without slots", [](Roll& r) { r.parameters.coarse[1] = 9; }},
        {"`parameters.coarse` 2 is slot 1", [](Roll& r) { r.parameters.coarse[2] = 1; }},
        {"`parameters.coarse` 3 is slot 65", [](Roll& r) { r.parameters.coarse[3] = 65; }},
        {"`parameters.coarse` 0 is slot 0", [](Roll& r) { r.parameters.coarse[0] = 0; }},
        {"`parameters.fine` 3 is slot 4", [](Roll& r) { r.parameters.fine[3] = 4; }},
        {"`parameters.kind` 0 is unknown", [](Roll& r) { r.parameters.kind[0] = static_cast<Kind>(4); }},
        {"`parameters.under` 2 leads to 3", [](Roll& r) { r.parameters.under[2] = 3; }},
        {"`parameters.under` 2 leads to 4", [](Roll& r) { r.parameters.under[2] = 4; }},
        {"`parameters.under` 0 leads to 0", [](Roll& r) { r.parameters.under[0] = 0; }},
        {"which has no slots", [](Roll& r) { r.parameters.kind[0] = Kind::colour; r.parameters.under[0] = 1; }},
        {"scales slots of two universes", [](Roll& r) { r.parameters.under[3] = 1; }},
        {"`waveforms` 0 has 1 segments", [](Roll& r) { r.waveforms[0].segments = {{0, 0, 0}}; }},
        {"`waveforms` 1 has 0 segments", [](Roll& r) { r.waveforms[1].segments.clear(); }},
        {"`waveforms` 1 segment 0: starts grow from 0",
         [](Roll& r) { r.waveforms[1].segments[0].start = 1; }},
        {"`waveforms` 1 segment 1: starts grow from 0",
         [](Roll& r) { r.waveforms[1].segments[1].start = 0; }},
        {"an unknown shape", [](Roll& r) { r.waveforms[0].shape = static_cast<Waveform::Shape>(3); }},
        {"waveform 3, which is not there", [](Roll& r) { r.waves[0].waveform = 3; }},
        {"a period of 0 ms", [](Roll& r) { r.waves[0].period = 0; }},
        {"a period of 604800001 ms", [](Roll& r) { r.waves[0].period = limits::time_ms + 1; }},
        {"columns of 2 and of 3", [](Roll& r) { r.waves[0].member.push_back(0); }},
        {"row 1: parameters grow", [](Roll& r) { r.waves[0].parameter[1] = 0; }},
        {"row 1: parameters grow", [](Roll& r) { r.waves[0].parameter[1] = 4; }},
        {"row 0 has an end at -1", [](Roll& r) { r.waves[0].low[0] = -1; }},
        {"row 1 has an end at 65536", [](Roll& r) { r.waves[0].high[1] = 65536; }},
        {"continues wave 1, which is not there", [](Roll& r) { r.waves[0].continues = 1; }},
        {"`cues` 1: numbers grow", [](Roll& r) { r.cues.push_back(r.cues[0]); r.lists[0].count = 2; }},
        {"a text of over 65535 bytes", [](Roll& r) { r.cues[0].note.assign(65536, 'x'); }},
        {"an unknown `next`", [](Roll& r) { r.cues[0].next = static_cast<Next>(3); }},
        {"`next_ms` may be up to", [](Roll& r) { r.cues[0].next_ms = limits::time_ms + 1; }},
        {"`next_ms` may be up to", [](Roll& r) { r.cues[0].complete_ms = 2 * limits::time_ms + 1; }},
        {"`cues` 0 has a time of 604800001 ms", [](Roll& r) { r.cues[0].beam.delay = limits::time_ms + 1; }},
        {"`sets of cues` 0 has an unknown curve",
         [](Roll& r) { r.cues[0].sets[0].timing.curve = static_cast<Curve>(3); }},
        {"starts wave 1, which is not there", [](Roll& r) { r.cues[0].starts[0] = 1; }},
        {"a run of 2 from parameter 3", [](Roll& r) { r.cues[0].sets[0].runs[1].level = {0, 0}; }},
        {"a run of 0 from parameter 3", [](Roll& r) { r.cues[0].sets[0].runs[1].level.clear(); }},
        {"a run of 1 from parameter 4", [](Roll& r) { r.cues[0].sets[0].runs[1].parameter = 4; }},
        {"2 levels and 1 waves", [](Roll& r) { r.cues[0].sets[0].runs[0].wave.pop_back(); }},
        {"sets parameter 1 twice", [](Roll& r) { r.cues[0].sets[0].runs[1].parameter = 1; }},
        {"puts wave 0 on parameter 1", [](Roll& r) { r.cues[0].sets[0].runs[0].wave[1] = 0; }},
        {"`pictures` has over 0 entries", [](Roll& r) { r.pictures.push_back({0, {}, {}, {}}); }},
    }));
    CAPTURE(why);
    CHECK_THAT(invalid(spoil), Catch::Contains(why));
}

namespace {

// The small roll with all that may be left out: another list, a chase on the lamp, a submaster, a floor, a
// panic look.
Roll full_roll() {
    Roll roll = small_roll();
    Chase chase;
    chase.loop = true;
    chase.steps = {{400, 100}, {500, 0}};
    chase.parameter = {0, 2};
    chase.jumps = {0, 1};
    chase.level = {full, 1, 2, 3};
    roll.chases = {chase};
    roll.timecode_rate = TimecodeRate::drop;
    Cue cue = roll.cues[0];
    cue.timecode = 1800;
    cue.starts = {1};
    cue.sets = {{{}, {{0, {full}, {1}}}, {{1, 1}, {3, 1}}}};
    roll.cues.push_back(cue);
    roll.lists.push_back({"side", 1, 1});
    roll.submasters = {{3, "Front warm", {1}, {{0, {7, 8}, {1, none}}}, {{1, 1}}}};
    roll.keeps = {{0, {6554, 1}, {}}};
    roll.panic = {{0, {full}, {}}, {2, {9, 0}, {}}};
    roll.responses = {{{0, full}, {2621, full}, {{0, 1}}}, {{0, 100, full}, {0, 0, 9}, {{1, 1}}}};
    return roll;
}

}  // namespace

TEST_CASE("lists, chases, timecode, submasters, floors and a panic look are written and read",
          "[unit][roll]") {
    const Roll roll = full_roll();
    REQUIRE(validate(roll).why() == "");
    const std::string text = write_roll(roll);
    CHECK_THAT(text, Catch::Contains(R"("chases":[
{"loop":1,"ms":[400,500],"fade_ms":[100,0],"parameter":[0,2],"jumps":[0,1],"level":[65535,1,2,3]}],
"timecode_rate":2,
"lists":[
{"name":"main","first":0,"count":1},
{"name":"side","first":1,"count":1}],
)"));
    CHECK_THAT(text, Catch::Contains(R"("timecode":1800,"starts":[1],"sets":[{"timing":[0,0,0,0],)"
                                     R"("runs":[0,1,65535],"waves":[0,1],"releases":[1,1,3,1]}]})"));
    CHECK_THAT(text, Catch::EndsWith(R"("pictures":[],
"submasters":[
{"number":3,"label":"Front warm","starts":[1],"runs":[0,2,7,8],"waves":[0,1,-1],"jumps":[1,1]}],
"keeps":[0,2,6554,1],
"panic":[0,1,65535,2,2,9,0],
"responses":[
{"level":[0,65535],"slot":[2621,65535],"on":[0,1]},
{"level":[0,100,65535],"slot":[0,0,9],"on":[1,1]}]}
)"));
    const auto read = read_roll(text);
    REQUIRE(read.why() == "");
    CHECK(read->chases == roll.chases);
    CHECK(read->timecode_rate == roll.timecode_rate);
    CHECK(read->lists == roll.lists);
    CHECK(read->cues == roll.cues);
    CHECK(read->submasters == roll.submasters);
    CHECK(read->keeps == roll.keeps);
    CHECK(read->panic == roll.panic);
    CHECK(read->responses == roll.responses);
}

TEST_CASE("what an engine could not play of lists, chases, submasters and floors is refused",
          "[unit][roll]") {
    using Spoil = std::function<void(Roll&)>;
    const auto [why, spoil] = GENERATE(table<const char*, Spoil>({
        {"`timecode_rate` is unknown", [](Roll& r) { r.timecode_rate = static_cast<TimecodeRate>(4); }},
        {"`chases` 0 has 0 steps", [](Roll& r) { r.chases[0].steps.clear(); }},
        {"`chases` 0 has 4097 steps", [](Roll& r) { r.chases[0].steps.resize(4097); }},
        {"a step of 0 ms", [](Roll& r) { r.chases[0].steps[0].ms = 0; }},
        {"a step of 604800001 ms", [](Roll& r) { r.chases[0].steps[0].ms = limits::time_ms + 1; }},
        {"with a fade of 501", [](Roll& r) { r.chases[0].steps[1].fade_ms = 501; }},
        {"`chases` 0 row 1: parameters grow", [](Roll& r) { r.chases[0].parameter[1] = 0; }},
        {"`chases` 0 row 1: parameters grow", [](Roll& r) { r.chases[0].parameter[1] = 4; }},
        {"4 levels and 1 jumps", [](Roll& r) { r.chases[0].jumps.pop_back(); }},
        {"3 levels and 2 jumps", [](Roll& r) { r.chases[0].level.pop_back(); }},
        {"`lists` 0 has a name that is empty", [](Roll& r) { r.lists[0].name = ""; }},
        {"`lists` 1 has a name that is empty", [](Roll& r) { r.lists[1].name = "main"; }},
        {"`lists` 1 has 1 cues from 0 on", [](Roll& r) { r.lists[1].first = 0; }},
        {"`lists` 1 has 1048577 cues", [](Roll& r) { r.lists[1].count = limits::cues + 1; }},
        {"`lists` has over 4096", [](Roll& r) { r.lists.resize(4097); }},
        {"`lists` holds 3 cues; there are 2", [](Roll& r) { r.lists[1].count = 2; }},
        {"`cues` 1 is in none of the `lists`", [](Roll& r) { r.lists.pop_back(); }},
        {"frame 2589408 of timecode; a day has 2589408", [](Roll& r) { r.cues[1].timecode = 2589408; }},
        {"`cues` 1 starts wave 2", [](Roll& r) { r.cues[1].starts[0] = 2; }},
        {"puts wave 2 on parameter 0", [](Roll& r) { r.cues[1].sets[0].runs[0].wave[0] = 2; }},
        {"puts wave 1 on parameter 1", [](Roll& r) { r.cues[1].sets[0].runs = {{1, {0}, {1}}}; }},
        {"sets parameter 0 twice", [](Roll& r) { r.cues[1].sets[0].releases[0].parameter = 0; }},
        {"`cues` 1 has 1 parameters from 1 on",
         [](Roll& r) { std::swap(r.cues[1].sets[0].releases[0], r.cues[1].sets[0].releases[1]); }},
        {"has 2 parameters from 3 on", [](Roll& r) { r.cues[1].sets[0].releases[1].count = 2; }},
        {"has 0 parameters from 3 on", [](Roll& r) { r.cues[1].sets[0].releases[1].count = 0; }},
        {"`submasters` 0: numbers grow", [](Roll& r) { r.submasters[0].number = 0; }},
        {"`submasters` 1: numbers grow", [](Roll& r) { r.submasters.push_back(r.submasters[0]); }},
        {"`submasters` 0 has a label", [](Roll& r) { r.submasters[0].label.assign(65536, 'x'); }},
        {"`submasters` 0 starts wave 2", [](Roll& r) { r.submasters[0].starts[0] = 2; }},
        {"`submasters` 0 has a run of 5", [](Roll& r) { r.submasters[0].runs[0].level.resize(5); }},
        {"`submasters` 0 sets parameter 1 twice",
         [](Roll& r) { r.submasters[0].runs.push_back({1, {0}, {}}); }},
        {"`submasters` 0 has 4 parameters from 1", [](Roll& r) { r.submasters[0].jumps[0].count = 4; }},
        {"`submasters` has over 4096", [](Roll& r) { r.submasters.resize(4097); }},
        {"`keeps` holds parameter 2", [](Roll& r) { r.keeps[0].level.push_back(0); }},
        {"`keeps` has waves in the run from parameter 0", [](Roll& r) { r.keeps[0].wave = {1, none}; }},
        {"`keeps` 0 sets parameter 1 twice", [](Roll& r) { r.keeps.push_back({1, {0}, {}}); }},
        {"`panic` has waves in the run from parameter 0", [](Roll& r) { r.panic[0].wave = {1}; }},
        {"`panic` 0 sets parameter 3 twice", [](Roll& r) { r.panic.push_back({3, {0}, {}}); }},
        {"`panic` 0 has a run of 3 from parameter 2", [](Roll& r) { r.panic[1].level.push_back(0); }},
        {"`panic` 0 has a run of 0 from parameter 0", [](Roll& r) { r.panic[0].level.clear(); }},
        {"`responses` 0 has 1 levels and 2 slots", [](Roll& r) { r.responses[0].level.pop_back(); }},
        {"`responses` 0 has 1 levels and 1 slots",
         [](Roll& r) { r.responses[0] = {{0}, {0}, {{0, 1}}}; }},
        {"`responses` 0 has 4097 levels", [](Roll& r) {
             r.responses[0].level.resize(4097);
             r.responses[0].slot.resize(4097);
         }},
        {"`responses` 0 goes from level 1", [](Roll& r) { r.responses[0].level[0] = 1; }},
        {"`responses` 1 goes from level 0 to 65534", [](Roll& r) { r.responses[1].level[2] = 65534; }},
        {"`responses` 1: levels grow", [](Roll& r) { r.responses[1].level[1] = 0; }},
        {"`responses` 1: levels grow and slots never fall; knot 2", [](Roll& r) { r.responses[1].slot[1] = 10; }},
        {"`responses` 1 has 9 parameters from 1 on", [](Roll& r) { r.responses[1].on[0].count = 9; }},
        {"`responses` 1 is on parameter 3", [](Roll& r) { r.responses[1].on[0].count = 3; }},
        {"`responses` 1 sets parameter 0 twice", [](Roll& r) { r.responses[1].on[0] = {0, 1}; }},
        {"`responses` has over 256", [](Roll& r) { r.responses.resize(257, {{0, full}, {0, full}, {}}); }},
    }));
    CAPTURE(why);
    Roll roll = full_roll();
    spoil(roll);
    CHECK_THAT(validate(roll).why(), Catch::Contains(why));
    // The same in reading, but for the waves of floors and of a panic look, which are not written.
    if (roll.keeps[0].wave.empty() && roll.panic[0].wave.empty())
        CHECK_FALSE(read_roll(write_roll(roll)).ok());
}

TEST_CASE("the numbers of two lists are apart", "[unit][roll]") {
    CHECK(full_roll().cues[0].number == full_roll().cues[1].number);
    Roll roll = full_roll();
    roll.lists = {{"main", 0, 2}};
    CHECK_THAT(validate(roll).why(), Catch::Contains("`cues` 1: numbers grow"));
}

TEST_CASE("every 64th cue has its picture", "[unit][roll]") {
    std::uint64_t seed = 1;
    while (test::random_roll(seed).roll.pictures.empty()) ++seed;
    Roll roll = test::random_roll(seed).roll;
    REQUIRE(validate(roll).why() == "");
    roll.pictures[0].wave[0] = 99;
    CHECK_THAT(validate(roll).why(), Catch::Contains("puts wave 99 on parameter "));
    roll.pictures[0].wave.clear();
    CHECK_THAT(validate(roll).why(), Catch::Contains("`pictures` 0 has columns of"));
    roll.pictures.clear();
    CHECK_THAT(validate(roll).why(), Catch::Contains("`pictures` has 0 entries"));
}

TEST_CASE("the example in FORMATS.md is a roll as it would be written", "[unit][roll]") {
    const auto page = read_file(TALLOW_SOURCE_DIR "/runtime/FORMATS.md", 1 << 20);
    REQUIRE(page.why() == "");
    const auto from = page->find("{\"roll\":1");
    REQUIRE(from != std::string::npos);
    const std::string example = page->substr(from, page->find("```", from) - from);
    const auto roll = read_roll(example);
    REQUIRE(roll.why() == "");
    CHECK(write_roll(*roll) == example);
}
