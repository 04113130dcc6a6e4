#include "runtime/inspect.hpp"

#include <catch2/catch.hpp>
#include <sstream>

#include "tests/support/made_frames.hpp"

using namespace tallow;
using namespace tallow::runtime;

namespace {

std::vector<std::string> csv_lines(FramesReader& reader, std::optional<std::uint64_t> only, Status& status) {
    std::string all;
    status = write_csv(reader, only, [&](std::string_view piece) {
        all += piece;
        return Status();
    });
    std::vector<std::string> lines;
    std::istringstream in(all);
    for (std::string line; std::getline(in, line);) lines.push_back(line);
    return lines;
}

std::string expected_line(const test::MadeShow& show, std::size_t n, std::size_t at, const Universe& u,
                          const std::string& time) {
    std::ostringstream line;
    line << n << ',' << time << ',' << u.number;
    for (std::size_t slot = 0; slot < 512; ++slot) {
        line << ',';
        if (slot < u.slots) line << int{show.frames[n][at + slot]};
    }
    return line.str();
}

}  // namespace

TEST_CASE("a frame's time is written exactly where it can be", "[unit][inspect]") {
    CHECK(frame_seconds(0, 40) == "0");
    CHECK(frame_seconds(1, 40) == "0.025");
    CHECK(frame_seconds(40, 40) == "1");
    CHECK(frame_seconds(4004, 40) == "100.1");
    CHECK(frame_seconds(1, 32) == "0.03125");
    CHECK(frame_seconds(1, 30) == "0.033333333");
    CHECK(frame_seconds(2, 30) == "0.066666667");
    CHECK(frame_seconds(43, 44) == "0.977272727");
}

TEST_CASE("a table has a line for every frame and universe", "[unit][inspect]") {
    const auto show = test::made_show(14, {{1, 512}, {7, 20}}, 300);
    auto reader = FramesReader::from_bytes(test::packed(show));
    REQUIRE(reader.ok());
    Status status;
    const auto lines = csv_lines(*reader, {}, status);
    CHECK(status.ok());
    REQUIRE(lines.size() == 1 + 2 * 300);
    CHECK(lines[0].substr(0, 26) == "frame,time,universe,1,2,3,");
    CHECK(lines[0].substr(lines[0].size() - 8) == ",511,512");
    for (std::size_t n = 0; n < 300; ++n) {
        const std::string time = frame_seconds(n, 40);
        REQUIRE(lines[1 + 2 * n] == expected_line(show, n, 0, {1, 512}, time));
        REQUIRE(lines[2 + 2 * n] == expected_line(show, n, 512, {7, 20}, time));
    }
    const auto one = csv_lines(*reader, 123, status);
    REQUIRE(one.size() == 3);
    CHECK(one[1] == lines[1 + 2 * 123]);
    CHECK(csv_lines(*reader, 300, status).empty());
    CHECK(status.why() == "there is no frame 300; the file has 300, from 0 on");
}

TEST_CASE("a table of a cut file says so after its last line", "[unit][inspect]") {
    const auto show = test::made_show(14, {{1, 20}}, 9000);
    Bytes file = test::packed(show);
    file.resize(file.size() / 2);
    auto reader = FramesReader::from_bytes(file);
    REQUIRE(reader.ok());
    Status status;
    CHECK(csv_lines(*reader, {}, status).size() == 1 + reader->frames());
    CHECK(status.why() == reader->damage());
    CHECK(summary(*reader).find("damage     the frames file is not whole") != std::string::npos);
}

TEST_CASE("the summary of a frames file names what it holds", "[unit][inspect]") {
    test::MadeShow show;
    show.info = {40, {{1, 512}, {7, 20}}, 0};
    show.frames.assign(3010, Bytes(532));
    show.marks = {{0, 1000}, {1001, 2500}};
    auto reader = FramesReader::from_bytes(test::packed(show));
    REQUIRE(reader.ok());
    CHECK(summary(*reader) ==
          "frames file\n"
          "refresh    40 Hz\n"
          "universes  1 (512 slots), 7 (20 slots)\n"
          "frames     3010\n"
          "length     1min15.25s (75.25 s)\n"
          "cue 1        at 0 s, frame 0\n"
          "cue 2.5      at 25.025 s, frame 1001\n");
}

TEST_CASE("the summary of a roll names what it holds", "[unit][inspect]") {
    Roll roll;
    roll.title = "The Winter Ferry";
    roll.by = "The Boathouse Players";
    roll.universes = {{1, 100}};
    roll.parameters.key = {"a/1/red", "a/1/green"};
    roll.waveforms.resize(1);
    roll.waves.resize(1);
    roll.waves[0].period = 6000;
    roll.waves[0].parameter = {0, 1};
    roll.cues.resize(4);
    roll.cues[0].number = 1000;
    roll.cues[0].label = "House to half";
    roll.cues[0].complete_ms = 5000;
    roll.cues[1].number = 2500;
    roll.cues[1].next = Next::follow;
    roll.cues[1].next_ms = 500;
    roll.cues[2].number = 3000;
    roll.cues[2].next = Next::next_at;
    roll.cues[2].next_ms = 10000;
    roll.cues[3].number = 3001;
    roll.lists = {{"main", 0, 4}};
    CHECK(summary(roll) ==
          "roll       \"The Winter Ferry\"\n"
          "by         The Boathouse Players\n"
          "refresh    40 Hz\n"
          "universes  1 (100 slots)\n"
          "parameters 2\n"
          "waves      1\n"
          "cues       4\n"
          "cue 1        \"House to half\"  on GO, complete after 5s\n"
          "cue 2.5      on GO, complete after 0s\n"
          "cue 3        500ms after 2.5 is complete, complete after 0s\n"
          "cue 3.001    10s after the GO of 3, complete after 0s\n"
          "wave 0       sine, period 6s, on 2 parameters\n");
}

TEST_CASE("the summary of a roll names lists, timecode, chases, submasters, floors and a panic look",
          "[unit][inspect]") {
    Roll roll;
    roll.title = "Two lists";
    roll.universes = {{1, 2}};
    roll.parameters.key = {"a/1/intensity", "b/1/intensity"};
    roll.cues.resize(3);
    for (std::uint32_t i = 0; i < 3; ++i) roll.cues[i].number = 1000 * (1 + i % 2);
    roll.cues[0].next = roll.cues[1].next = Next::follow;
    roll.cues[1].timecode = 1800;
    roll.timecode_rate = TimecodeRate::drop;
    roll.lists = {{"main", 0, 2}, {"side", 2, 1}};
    roll.chases = {{true, {{400, 0}, {800, 0}}, {0, 1}, {0, 0}, {1, 2, 3, 4}}};
    roll.submasters = {{7, "Front warm", {}, {{0, {1}, {}}, {1, {1}, {}}}, {}}};
    roll.keeps = {{1, {1}, {}}};
    roll.panic = {{0, {1, 1}, {}}};
    CHECK(summary(roll) ==
          "roll       \"Two lists\"\n"
          "refresh    40 Hz\n"
          "universes  1 (2 slots)\n"
          "parameters 2\n"
          "waves      0\n"
          "chases     1\n"
          "cues       3\n"
          "list       main\n"
          "cue 1        on GO, complete after 0s\n"
          "cue 2        0s after 1 is complete or at 00:01:00;02, complete after 0s\n"
          "list       side\n"
          "cue 1        on GO, complete after 0s\n"
          "chase 0      2 steps in 1.2s, in a loop, on 2 parameters\n"
          "submaster 7 \"Front warm\"  on 2 parameters\n"
          "floors     on 1 parameters\n"
          "panic      on 2 parameters\n");
}
