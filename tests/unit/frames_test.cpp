#include "runtime/frames/frames.hpp"

#include <catch2/catch.hpp>

#include "runtime/bytes.hpp"
#include "runtime/frames/frames_format.hpp"
#include "runtime/hash.hpp"
#include "runtime/limits.hpp"
#include "tests/support/made_frames.hpp"
#include "tests/support/random.hpp"

using namespace tallow;
using namespace tallow::runtime;
using test::MadeShow;

namespace {

const std::vector<Universe> three{{1, 512}, {7, 20}, {63999, 1}};

bool holds(FramesReader& reader, const MadeShow& show, std::uint64_t n) {
    const auto frame = reader.frame(n);
    return std::equal(frame.begin(), frame.end(), show.frames[n].begin(), show.frames[n].end());
}

std::uint64_t good_frames(FramesReader& reader, const MadeShow& show) {
    std::uint64_t n = 0;
    while (n < show.frames.size() && holds(reader, show, n)) ++n;
    return n;
}

// Puts an integer into a file's head and makes the head's hash right again.
template <class T>
Bytes with_head(Bytes file, std::size_t at, T value) {
    put_little(&file[at], value);
    const std::size_t table = 4 * std::size_t{get_little<std::uint32_t>(&file[12])};
    const std::size_t rest = std::min(table, file.size() - 64);
    put_little(&file[56],
               hash(as_text(std::span(file).subspan(64, rest)), hash(as_text(std::span(file).first(56)))));
    return file;
}

std::string refusal(const Bytes& file) {
    const auto reader = FramesReader::from_bytes(file);
    return reader.ok() ? "" : reader.why();
}

}  // namespace

TEST_CASE("a frames file gives back every frame, mark and universe", "[unit][frames]") {
    for (std::uint64_t seed = 1; seed <= 12; ++seed) {
        const MadeShow show = test::made_show(seed, three, 40 * seed * seed);
        auto reader = FramesReader::from_bytes(test::packed(show));
        REQUIRE(reader.ok());
        CHECK(reader->info() == show.info);
        CHECK(reader->frames() == show.frames.size());
        CHECK(reader->marks() == show.marks);
        CHECK(good_frames(*reader, show) == show.frames.size());
        CHECK(reader->damage().empty());
        CHECK(reader->frame(show.frames.size()).empty());
    }
}

TEST_CASE("a frames file without a frame is whole", "[unit][frames]") {
    auto reader = FramesReader::from_bytes(test::packed(test::made_show(1, three, 0)));
    REQUIRE(reader.ok());
    CHECK(reader->frames() == 0);
    CHECK(reader->damage().empty());
}

TEST_CASE("frames are read in any order", "[unit][frames]") {
    const MadeShow show = test::made_show(5, three, 9000);  // three chunks
    auto reader = FramesReader::from_bytes(test::packed(show));
    REQUIRE(reader.ok());
    test::Random random(5);
    for (int i = 0; i < 300; ++i) REQUIRE(holds(*reader, show, random.below(show.frames.size())));
}

TEST_CASE("a frames file is read from the disk as from memory", "[unit][frames]") {
    const MadeShow show = test::made_show(6, three, 500);
    const std::string path = test::scratch("from_disk.frames");
    test::write_made(show, path);
    auto reader = FramesReader::open(path);
    REQUIRE(reader.ok());
    CHECK(good_frames(*reader, show) == show.frames.size());
    const auto missing = FramesReader::open(test::scratch("no such.frames"));
    REQUIRE_FALSE(missing.ok());
    CHECK(missing.why().find("no such.frames`: No such file or directory; check the name") !=
          std::string::npos);
}

TEST_CASE("stillness takes next to no room", "[unit][frames]") {
    MadeShow show;
    show.info = {40, {{1, 512}}, 0};
    show.frames.assign(std::size_t{40} * 3600, Bytes(512, 77));
    CHECK(test::packed(show).size() < 10000);  // 73 728 000 bytes of slots
}

TEST_CASE("a frames file that is cut anywhere plays up to its last good chunk and says so",
          "[unit][frames]") {
    const MadeShow show = test::made_show(3, {{1, 24}}, 9000);
    const Bytes file = test::packed(show);
    const std::size_t head = 64 + 4;
    std::vector<std::uint64_t> starts;
    for (std::size_t size = 0; size < file.size(); size += size < 200 || size + 300 > file.size() ? 1 : 97) {
        auto reader =
            FramesReader::from_bytes(Bytes(file.begin(), file.begin() + static_cast<std::ptrdiff_t>(size)));
        REQUIRE(reader.ok() == (size >= head));
        if (!reader.ok()) continue;
        CHECK_FALSE(reader->damage().empty());
        const std::uint64_t good = good_frames(*reader, show);
        REQUIRE(good == reader->frames());
        if (starts.empty() || starts.back() != reader->frames()) starts.push_back(reader->frames());
        for (const CueMark& m : reader->marks()) REQUIRE(m.frame < reader->frames());
    }
    CHECK(starts == std::vector<std::uint64_t>{0, 4096, 8192, 9000});
}

TEST_CASE("the sentence on a cut file says what plays and what to do", "[unit][frames]") {
    const MadeShow show = test::made_show(3, {{1, 24}}, 9000);
    Bytes file = test::packed(show);
    file.resize(file.size() / 2);
    const auto reader = FramesReader::from_bytes(file);
    REQUIRE(reader.ok());
    CHECK(reader->damage().find("the frames file is not whole: it is cut, from byte ") == 0);
    CHECK(reader->damage().find("; its first 4096 of 9000 frames play; copy it again or render it again") !=
          std::string::npos);
}

TEST_CASE("a chunk that is damaged ends the play before it, and the file says so", "[unit][frames]") {
    const MadeShow show = test::made_show(3, {{1, 24}}, 9000);
    Bytes file = test::packed(show);
    file[file.size() / 2] ^= 1;
    auto reader = FramesReader::from_bytes(file);
    REQUIRE(reader.ok());
    CHECK(reader->damage().empty());  // the index is sound: found when it is read
    CHECK(good_frames(*reader, show) == 4096);
    CHECK(reader->frames() == 4096);
    CHECK(reader->damage().find("a chunk is damaged") != std::string::npos);
    CHECK(reader->marks().back().frame < 4096);
}

TEST_CASE("no byte that is changed changes a frame unseen", "[unit][frames]") {
    const MadeShow show = test::made_show(9, {{1, 16}, {2, 3}}, 300);
    const Bytes file = test::packed(show);
    for (std::size_t i = 0; i < file.size(); ++i)
        for (const int change : {1, 0x80, 0xff}) {
            Bytes spoilt = file;
            spoilt[i] = static_cast<std::uint8_t>(spoilt[i] ^ change);
            auto reader = FramesReader::from_bytes(spoilt);
            REQUIRE(reader.ok() == (i >= 64 + 8));
            if (!reader.ok()) continue;
            const std::uint64_t good = good_frames(*reader, show);
            REQUIRE(good == reader->frames());
            REQUIRE((good == show.frames.size() || !reader->damage().empty()));
        }
}

TEST_CASE("a head that claims too much is refused", "[unit][frames]") {
    const Bytes file = test::packed(test::made_show(1, {{1, 16}}, 10));
    CHECK(refusal(Bytes(200, 'x')).find("it does not begin as one") != std::string::npos);
    CHECK(refusal(with_head(file, 8, std::uint16_t{2})).find("it is of version 2") != std::string::npos);
    CHECK(refusal(with_head(file, 10, std::uint16_t{45})).find("its refresh is 45 Hz, not 1..44") !=
          std::string::npos);
    CHECK(refusal(with_head(file, 12, std::uint32_t{0xffffffff})).find("it has 4294967295 universes") !=
          std::string::npos);
    CHECK(refusal(with_head(file, 12, std::uint32_t{63999})).find("its head is cut") != std::string::npos);
    CHECK(refusal(with_head(file, 16, std::uint32_t{0xffffffff})).find("its frame size is not the sum") !=
          std::string::npos);
    CHECK(refusal(with_head(file, 24, ~std::uint64_t{0})).find("it claims more than 26611200 frames") !=
          std::string::npos);
    CHECK(refusal(with_head(file, 64, std::uint16_t{0})).find("universe 0 stands out of order") !=
          std::string::npos);
    CHECK(refusal(with_head(file, 66, std::uint16_t{513})).find("universe 1 has 513 slots, not 1..512") !=
          std::string::npos);
    Bytes unhashed = file;
    unhashed[40] ^= 1;
    CHECK(refusal(unhashed).find("its head is damaged") != std::string::npos);
}

TEST_CASE("a chunk that claims too much is not read", "[unit][frames]") {
    using namespace frames_format;
    const Bytes file = test::packed(test::made_show(1, {{1, 16}}, 10));
    const auto span = std::span<const std::uint8_t, chunk_header_bytes>(&file[68], chunk_header_bytes);
    const auto sound = decode_chunk_header(span);
    REQUIRE(sound);
    const auto readable = [](ChunkHeader h) {
        const Bytes b = encode(h);
        return decode_chunk_header(
                   std::span<const std::uint8_t, chunk_header_bytes>(b.data(), chunk_header_bytes))
            .has_value();
    };
    const auto with = [&](auto change) {
        ChunkHeader h = *sound;
        change(h);
        return readable(h);
    };
    CHECK(with([](ChunkHeader&) {}));
    CHECK_FALSE(with([](ChunkHeader& h) { h.unpacked = limits::chunk_bytes + 1; }));
    CHECK_FALSE(with([](ChunkHeader& h) { h.frames = limits::chunk_frames + 1; }));
    CHECK_FALSE(with([](ChunkHeader& h) { h.distinct = h.frames + 1; }));
    CHECK_FALSE(with([](ChunkHeader& h) { h.distinct = 0; }));
    CHECK_FALSE(with([](ChunkHeader& h) { h.first = ~std::uint64_t{0}; }));
    // More packed bytes than the file has, and another unpacked size than the packed bytes claim: the chunk
    // is damaged.
    for (const bool packed : {true, false}) {
        ChunkHeader h = *sound;
        (packed ? h.packed : h.unpacked) = 1u << 25;
        const Bytes head = encode(h);
        Bytes spoilt = file;
        std::copy(head.begin(), head.end(), spoilt.begin() + 68);
        auto reader = FramesReader::from_bytes(spoilt);
        REQUIRE(reader.ok());
        CHECK(reader->frame(0).empty());
        CHECK(reader->frames() == 0);
    }
}

TEST_CASE("a frames file that is not committed leaves the old one", "[unit][frames]") {
    const std::string path = test::scratch("kept.frames");
    const MadeShow show = test::made_show(2, three, 50);
    test::write_made(show, path);
    {
        FramesWriter writer;
        REQUIRE(writer.open(path, show.info).ok());
        REQUIRE(writer.frame(show.frames[0]).ok());
    }
    auto reader = FramesReader::open(path);
    REQUIRE(reader.ok());
    CHECK(good_frames(*reader, show) == 50);
}
