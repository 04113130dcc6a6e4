#include <algorithm>
#include <fmt/format.h>
#include <zstd.h>

#include "runtime/byte_source.hpp"
#include "runtime/frames/frames_chunk.hpp"
#include "runtime/limits.hpp"

namespace tallow::runtime {

using frames_format::ChunkHeader;
using frames_format::ChunkPlace;

struct FramesReader::State {
    std::unique_ptr<ByteSource> source;
    frames_format::Header header;
    frames_format::Index index;
    std::uint64_t frames = 0;
    std::string damage;
    ChunkCursor cursor;
    std::uint64_t begin = 0, end = 0;  // the frames in the cursor; none at first
    Bytes packed;

    std::optional<ChunkHeader> load(const ChunkPlace& place);
    void walk();
    void spoilt(std::uint64_t offset, std::string_view how);
};

// Reads and unpacks a chunk into the cursor; nothing when it is not sound.
std::optional<ChunkHeader> FramesReader::State::load(const ChunkPlace& place) {
    begin = end = 0;
    std::array<std::uint8_t, frames_format::chunk_header_bytes> head;
    if (!source->read_at(place.offset, head)) return {};
    const auto chunk = frames_format::decode_chunk_header(head);
    const std::uint64_t at = place.offset + head.size();
    if (!chunk || chunk->first != place.first || chunk->packed > source->size() - at) return {};
    packed.resize(chunk->packed);
    if (!source->read_at(at, packed)) return {};
    if (ZSTD_getFrameContentSize(packed.data(), packed.size()) != chunk->unpacked) return {};
    Bytes payload(chunk->unpacked);
    if (ZSTD_decompress(payload.data(), payload.size(), packed.data(), packed.size()) != payload.size())
        return {};
    if (!cursor.open(std::move(payload), *chunk, header.info.frame_bytes())) return {};
    begin = chunk->first;
    end = begin + chunk->frames;
    return chunk;
}

// Without a sound index: goes from chunk to chunk as long as they are sound.
void FramesReader::State::walk() {
    ChunkPlace place{header.size(), 0};
    while (const auto chunk = load(place)) {
        index.chunks.push_back(place);
        for (const CueMark& m : cursor.marks()) index.marks.push_back({place.first + m.frame, m.cue});
        place.offset += frames_format::chunk_header_bytes + chunk->packed;
        place.first += chunk->frames;
    }
    frames = place.first;
    const bool cut = source->size() < header.index_offset + frames_format::footer_bytes;
    spoilt(place.offset, frames == header.frames ? "its index is cut or damaged"
                         : cut                   ? "it is cut"
                                                 : "a chunk is damaged");
}

void FramesReader::State::spoilt(std::uint64_t offset, std::string_view how) {
    damage = fmt::format(
        "the frames file is not whole: {}, from byte {} on; its first {} of {} frames play; copy it again or "
        "render it again",
        how, offset, frames, std::max(frames, header.frames));
}

FramesReader::FramesReader(std::unique_ptr<State> s) : s_(std::move(s)) {}
FramesReader::FramesReader(FramesReader&&) noexcept = default;
FramesReader& FramesReader::operator=(FramesReader&&) noexcept = default;
FramesReader::~FramesReader() = default;

Result<FramesReader> FramesReader::open(const std::string& path) {
    auto source = open_bytes(path);
    if (!source.ok()) return source.status();
    auto reader = from_source(std::move(*source));
    if (!reader.ok()) return Status::failure(fmt::format("cannot read `{}`: {}", path, reader.why()));
    return reader;
}

Result<FramesReader> FramesReader::from_bytes(Bytes bytes) {
    return from_source(bytes_in_memory(std::move(bytes)));
}

Result<FramesReader> FramesReader::from_source(std::unique_ptr<ByteSource> source) {
    auto header = frames_format::decode_header(*source);
    if (!header.ok()) return header.status();
    auto s = std::make_unique<State>();
    s->source = std::move(source);
    s->header = std::move(*header);
    if (auto index = frames_format::decode_index(*s->source, s->header)) {
        s->index = std::move(*index);
        s->frames = s->header.frames;
    } else {
        s->walk();
    }
    return FramesReader(std::move(s));
}

const FramesInfo& FramesReader::info() const {
    return s_->header.info;
}
std::uint64_t FramesReader::frames() const {
    return s_->frames;
}
const std::vector<CueMark>& FramesReader::marks() const {
    return s_->index.marks;
}
const std::string& FramesReader::damage() const {
    return s_->damage;
}

std::span<const std::uint8_t> FramesReader::frame(std::uint64_t n) {
    State& s = *s_;
    if (n >= s.frames) return {};
    if (n < s.begin || n >= s.end) {
        auto& chunks = s.index.chunks;
        const auto next =
            std::upper_bound(chunks.begin(), chunks.end(), n,
                             [](std::uint64_t frame, const ChunkPlace& c) { return frame < c.first; });
        const ChunkPlace place = *std::prev(next);
        const std::uint64_t expected_end = next == chunks.end() ? s.frames : next->first;
        if (!s.load(place) || s.end != expected_end) {
            s.begin = s.end = 0;
            s.frames = place.first;
            std::erase_if(s.index.marks, [&](const CueMark& m) { return m.frame >= s.frames; });
            s.spoilt(place.offset, "a chunk is damaged");
            return {};
        }
    }
    return s.cursor.at(static_cast<std::uint32_t>(n - s.begin));
}

Result<bool> holds_frames(const std::string& path) {
    auto bytes = open_bytes(path);
    if (!bytes.ok()) return bytes.status();
    Bytes head(std::min<std::uint64_t>((*bytes)->size(), 8));
    if (!(*bytes)->read_at(0, head))
        return Status::failure(fmt::format("cannot read `{}`; check that you may", path));
    return is_frames_file(head);
}

}  // namespace tallow::runtime
