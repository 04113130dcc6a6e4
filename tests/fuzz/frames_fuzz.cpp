#include "tests/fuzz/frames_fuzz.hpp"

#include <stdexcept>

#include "runtime/frames/frames_chunk.hpp"
#include "runtime/hash.hpp"

namespace tallow::test {
namespace {

using namespace runtime;

void read_all(Bytes bytes) {
    auto reader = FramesReader::from_bytes(std::move(bytes));
    if (!reader.ok()) return;
    std::uint64_t n = 0;
    while (reader->frame(n).size() == reader->info().frame_bytes()) ++n;
    if (n != reader->frames())
        throw std::logic_error("frames() is not the number of frames that can be read");
    for (const CueMark& m : reader->marks())
        if (m.frame >= n) throw std::logic_error("a mark stands behind the last frame");
}

void put_hash(Bytes& bytes, std::uint64_t at, std::uint64_t value) {
    if (at <= bytes.size() && bytes.size() - at >= 8) put_little(&bytes[at], value);
}

// By FORMATS.md: the hashes of the header, of each chunk header that is found, and of the index.
Bytes with_true_hashes(Bytes b) {
    if (b.size() < 64) return b;
    const std::span<const std::uint8_t> all = b;
    const std::uint64_t table =
        std::min<std::uint64_t>(4 * std::uint64_t{get_little<std::uint32_t>(&b[12])}, b.size() - 64);
    put_hash(b, 56, hash(as_text(all.subspan(64, table)), hash(as_text(all.first(56)))));
    for (std::uint64_t at = 64 + table; at + 40 <= b.size();
         at += 40 + std::uint64_t{get_little<std::uint32_t>(&b[at + 20])})
        put_hash(b, at + 32, hash(as_text(all.subspan(at, 32))));
    const auto index = get_little<std::uint64_t>(&b[32]);
    if (b.size() >= 16 && index <= b.size() - 16)
        put_hash(b, b.size() - 16, hash(as_text(all.subspan(index, b.size() - 16 - index))));
    return b;
}

void read_chunk(std::span<const std::uint8_t> bytes) {
    constexpr std::size_t head = 6;
    if (bytes.size() < head) return;
    frames_format::ChunkHeader header;
    header.frames = 1 + get_little<std::uint16_t>(&bytes[0]) % 4096u;
    header.distinct = 1 + get_little<std::uint16_t>(&bytes[2]) % header.frames;
    const std::size_t frame_bytes = 1 + get_little<std::uint16_t>(&bytes[4]);
    ChunkCursor cursor;
    if (!cursor.open({bytes.begin() + head, bytes.end()}, header, frame_bytes)) return;
    for (std::uint32_t n = 0; n < header.frames; ++n)
        if (cursor.at(n).size() != frame_bytes) throw std::logic_error("a frame of another size");
}

}  // namespace

void fuzz_frames(std::span<const std::uint8_t> bytes) {
    const Bytes copy(bytes.begin(), bytes.end());
    read_all(copy);
    read_all(with_true_hashes(copy));
    read_chunk(bytes);
}

}  // namespace tallow::test
