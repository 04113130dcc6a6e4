#include "runtime/frames/frames_chunk.hpp"

#include <catch2/catch.hpp>

#include "runtime/limits.hpp"
#include "tests/support/made_frames.hpp"

using namespace tallow;
using namespace tallow::runtime;

namespace {

// A chunk of 5 frames of 9 slots, put down byte by byte as FORMATS.md has it: slots 0 and 8 change.
const Bytes sound{
    2,    0,    0,  0,                          // two marks
    0,    0,    0,  0,  0xe8, 3,  0,  0,        // frame 0, cue 1
    3,    0,    0,  0,  0xc4, 9,  0,  0,        // frame 3, cue 2.5
    10,   20,   30, 40, 50,   60, 70, 80, 250,  // the first frame
    0x01, 0x01,                                 // slots 0 and 8
    1,    0,    3,  0,  1,    0,                // three distinct frames, the second three times
    1,    2,                                    // slot 0: 10, 11, 13
    10,   0,                                    // slot 8: 250, 4, 4
};
const std::vector<Bytes> frames{{10, 20, 30, 40, 50, 60, 70, 80, 250},
                                {11, 20, 30, 40, 50, 60, 70, 80, 4},
                                {11, 20, 30, 40, 50, 60, 70, 80, 4},
                                {11, 20, 30, 40, 50, 60, 70, 80, 4},
                                {13, 20, 30, 40, 50, 60, 70, 80, 4}};
constexpr frames_format::ChunkHeader header{0, 5, 3, 0, 0};

bool opens(const Bytes& payload, frames_format::ChunkHeader h = header) {
    ChunkCursor cursor;
    return cursor.open(payload, h, 9);
}

bool opens_with(std::size_t at, int byte) {
    Bytes payload = sound;
    payload[at] = static_cast<std::uint8_t>(byte);
    return opens(payload);
}

}  // namespace

TEST_CASE("a chunk is laid out as its description says", "[unit][frames]") {
    ChunkBuilder chunk(9);
    for (std::size_t n = 0; n < frames.size(); ++n) {
        if (n == 0) chunk.mark(1000);
        if (n == 3) chunk.mark(2500);
        REQUIRE(chunk.add(frames[n]));
    }
    Bytes payload;
    chunk.lay_out(payload);
    CHECK(payload == sound);
    CHECK(chunk.distinct() == 3);
}

TEST_CASE("a chunk is read as its description says", "[unit][frames]") {
    ChunkCursor cursor;
    REQUIRE(cursor.open(sound, header, 9));
    CHECK(cursor.marks() == std::vector<CueMark>{{0, 1000}, {3, 2500}});
    for (const std::uint32_t n : {0u, 1u, 2u, 3u, 4u, 2u, 0u, 4u}) {
        const auto frame = cursor.at(n);
        CHECK(Bytes(frame.begin(), frame.end()) == frames[n]);
    }
}

TEST_CASE("a chunk whose parts do not fit together is refused", "[unit][frames]") {
    CHECK(opens(sound));
    for (std::size_t size = 0; size < sound.size(); ++size)
        CHECK_FALSE(opens({sound.begin(), sound.begin() + static_cast<std::ptrdiff_t>(size)}));
    CHECK_FALSE(opens_with(0, 3));      // more marks than there are
    CHECK_FALSE(opens_with(3, 0xff));   // far more
    CHECK_FALSE(opens_with(4, 4));      // marks that fall
    CHECK_FALSE(opens_with(12, 5));     // a mark past the last frame
    CHECK_FALSE(opens_with(29, 0x03));  // more slots that change than columns
    CHECK_FALSE(opens_with(30, 0x03));  // a slot that the frame does not have
    CHECK_FALSE(opens_with(31, 0));     // a distinct frame that never stands
    CHECK_FALSE(opens_with(33, 2));     // fewer frames than the header says
    CHECK_FALSE(opens_with(33, 4));     // more
    CHECK_FALSE(opens(sound, {0, 5, 2, 0, 0}));
    CHECK_FALSE(opens(sound, {0, 4, 3, 0, 0}));
}

TEST_CASE("columns of every width and length come back", "[unit][frames]") {
    for (const std::size_t slots : {1, 7, 8, 9, 63, 64, 65, 130})
        for (const std::size_t count : {1, 2, 8, 9, 10, 17, 100}) {
            const auto show =
                test::made_show(slots * 1000 + count, {{1, static_cast<std::uint16_t>(slots)}}, count);
            ChunkBuilder chunk(slots);
            for (std::size_t n = 0; n < count; ++n) {
                Bytes frame = show.frames[n];
                frame[n % slots] = static_cast<std::uint8_t>(frame[n % slots] + 1);  // something always moves
                REQUIRE(chunk.add(frame));
            }
            Bytes payload;
            chunk.lay_out(payload);
            ChunkCursor cursor;
            REQUIRE(cursor.open(payload, {0, chunk.frames(), chunk.distinct(), 0, 0}, slots));
            for (std::uint32_t n = 0; n < count; ++n) {
                Bytes frame = show.frames[n];
                frame[n % slots] = static_cast<std::uint8_t>(frame[n % slots] + 1);
                const auto got = cursor.at(n);
                REQUIRE(Bytes(got.begin(), got.end()) == frame);
            }
        }
}

TEST_CASE("a chunk takes no more frames than it may hold", "[unit][frames]") {
    ChunkBuilder chunk(9);
    for (std::uint32_t n = 0; n < limits::chunk_frames; ++n) REQUIRE(chunk.add(frames[0]));
    CHECK_FALSE(chunk.add(frames[0]));
    chunk.clear();
    CHECK(chunk.add(frames[0]));
}
