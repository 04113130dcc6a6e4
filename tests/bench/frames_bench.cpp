#include <chrono>
#include <cstring>
#include <filesystem>
#include <stdexcept>
#include <zstd.h>

#include "runtime/frames/frames.hpp"
#include "tests/bench/bench.hpp"
#include "tests/bench/mixed_frames.hpp"

namespace tallow::bench {
namespace {

using Seconds = std::chrono::duration<double>;

template <class Work>
double timed(Work work) {
    const auto begin = std::chrono::steady_clock::now();
    work();
    return Seconds(std::chrono::steady_clock::now() - begin).count();
}

// The raw frames through zstd, as one stream.
class RawStream {
  public:
    explicit RawStream(int level) : zstd_(ZSTD_createCCtx()), out_(ZSTD_CStreamOutSize()) {
        ZSTD_CCtx_setParameter(zstd_, ZSTD_c_compressionLevel, level);
    }
    ~RawStream() { ZSTD_freeCCtx(zstd_); }
    RawStream(const RawStream&) = delete;
    RawStream& operator=(const RawStream&) = delete;
    void add(const runtime::Bytes& bytes, ZSTD_EndDirective end = ZSTD_e_continue) {
        ZSTD_inBuffer in{bytes.data(), bytes.size(), 0};
        std::size_t left = 1;
        while (end == ZSTD_e_end ? left > 0 : in.pos < in.size) {
            ZSTD_outBuffer out{out_.data(), out_.size(), 0};
            left = ZSTD_compressStream2(zstd_, &out, &in, end);
            size_ += out.pos;
        }
    }
    double finish() {
        add({}, ZSTD_e_end);
        return static_cast<double>(size_);
    }

  private:
    ZSTD_CCtx* zstd_;
    runtime::Bytes out_;
    std::size_t size_ = 0;
};

constexpr std::size_t minute = 60 * 40, hour = 60 * minute;

void need(const runtime::Status& s) {
    if (!s.ok()) throw std::runtime_error(s.why());
}

std::string scratch_path() {
    return std::filesystem::temp_directory_path() / "tallow-bench.frames";
}

void write_piece(runtime::FramesWriter& writer, std::span<const std::uint8_t> piece) {
    const std::size_t frame = piece.size() / mixed_piece;
    for (; !piece.empty(); piece = piece.subspan(frame)) need(writer.frame(piece.first(frame)));
}

// Frames are made in pieces that fit in memory; making them is not counted.
Row time_of_an_hour() {
    double ours = 0, theirs = 0;
    MixedFrames frames(1);
    runtime::FramesWriter writer;
    need(writer.open(scratch_path(), mixed_info()));
    RawStream raw(3);
    runtime::Bytes copy(mixed_info().frame_bytes() * mixed_piece);
    for (std::size_t n = 0; n < hour; n += mixed_piece) {
        const runtime::Bytes& piece = frames.next();
        ours += timed([&] { write_piece(writer, piece); });
        theirs += timed([&] {
            std::memcpy(copy.data(), piece.data(), piece.size());
            raw.add(copy);
        });
    }
    ours += timed([&] { need(writer.commit()); });
    theirs += timed([&] { raw.finish(); });
    return {"frames file: write an hour, 8 universes", "s", ours, theirs, Row::Goal::at_most, 1.0};
}

// Level 19 would take minutes over an hour of frames.
Row size_of_six_minutes() {
    MixedFrames frames(1);
    runtime::FramesWriter writer;
    need(writer.open(scratch_path(), mixed_info()));
    RawStream raw(19);
    for (std::size_t n = 0; n < 6 * minute; n += mixed_piece) {
        const runtime::Bytes& piece = frames.next();
        write_piece(writer, piece);
        raw.add(piece);
    }
    need(writer.commit());
    const auto ours = static_cast<double>(std::filesystem::file_size(scratch_path()));
    return {"frames file: size of 6 minutes", "bytes", ours, raw.finish(), Row::Goal::at_most, 0.75};
}

}  // namespace

std::vector<Row> frames_rows() {
    const Row time = time_of_an_hour(), size = size_of_six_minutes();
    std::filesystem::remove(scratch_path());
    return {time, size};
}

}  // namespace tallow::bench
