#include <fmt/format.h>
#include <zstd.h>

#include "runtime/files.hpp"
#include "runtime/frames/frames_chunk.hpp"
#include "runtime/limits.hpp"

namespace tallow::runtime {
namespace {

// Columns are already half packed: a low level takes nearly all that there is to take.
constexpr int zstd_level = 3;

}  // namespace

struct FramesWriter::State {
    State(const std::string& file_path, const FramesInfo& file_info)
        : path(file_path), chunk(file_info.frame_bytes()), zstd(ZSTD_createCCtx()) {
        header.info = file_info;
        ZSTD_CCtx_setParameter(zstd, ZSTD_c_compressionLevel, zstd_level);
        ZSTD_CCtx_setParameter(zstd, ZSTD_c_checksumFlag, 1);
    }
    ~State() { ZSTD_freeCCtx(zstd); }
    State(const State&) = delete;
    State& operator=(const State&) = delete;

    Status write(std::span<const std::uint8_t> bytes);
    Status flush();

    std::string path;
    FileWriter file;
    std::uint64_t offset = 0;  // bytes written
    frames_format::Header header;
    frames_format::Index index;
    ChunkBuilder chunk;
    ZSTD_CCtx* zstd;
    Bytes payload, packed;
};

Status FramesWriter::State::write(std::span<const std::uint8_t> bytes) {
    if (offset + bytes.size() > limits::file_bytes)
        return Status::failure(
            fmt::format("cannot write `{}`: a frames file holds at most {} bytes; render a shorter part",
                        path, limits::file_bytes));
    offset += bytes.size();
    return file.write(as_text(bytes));
}

Status FramesWriter::State::flush() {
    if (chunk.empty()) return {};
    chunk.lay_out(payload);
    packed.resize(ZSTD_compressBound(payload.size()));
    const std::size_t size =
        ZSTD_compress2(zstd, packed.data(), packed.size(), payload.data(), payload.size());
    if (ZSTD_isError(size))
        return Status::failure(
            fmt::format("cannot pack `{}`: {}; free some memory", path, ZSTD_getErrorName(size)));
    const std::uint64_t first = header.frames - chunk.frames();
    index.chunks.push_back({offset, first});
    for (const CueMark& m : chunk.marks()) index.marks.push_back({first + m.frame, m.cue});
    const frames_format::ChunkHeader chunk_header{first, chunk.frames(), chunk.distinct(),
                                                  static_cast<std::uint32_t>(size),
                                                  static_cast<std::uint32_t>(payload.size())};
    chunk.clear();
    if (auto s = write(frames_format::encode(chunk_header)); !s.ok()) return s;
    return write(std::span(packed).first(size));
}

FramesWriter::FramesWriter() = default;
FramesWriter::~FramesWriter() = default;

Status FramesWriter::open(const std::string& path, const FramesInfo& info) {
    s_ = std::make_unique<State>(path, info);
    if (auto s = s_->file.open(path); !s.ok()) return s;
    return s_->write(frames_format::encode(s_->header));
}

void FramesWriter::mark(std::uint32_t cue) {
    s_->chunk.mark(cue);
}

Status FramesWriter::frame(std::span<const std::uint8_t> slots) {
    if (s_->header.frames == limits::frames)
        return Status::failure(
            fmt::format("cannot write `{}`: a frames file holds at most {} frames; render a shorter part",
                        s_->path, limits::frames));
    if (!s_->chunk.add(slots)) {
        if (auto s = s_->flush(); !s.ok()) return s;
        s_->chunk.add(slots);
    }
    ++s_->header.frames;
    return {};
}

Status FramesWriter::commit() {
    if (auto s = s_->flush(); !s.ok()) return s;
    s_->header.index_offset = s_->offset;
    if (auto s = s_->write(frames_format::encode(s_->index)); !s.ok()) return s;
    if (auto s = s_->file.overwrite(0, as_text(frames_format::encode(s_->header))); !s.ok()) return s;
    return s_->file.commit();
}

}  // namespace tallow::runtime
