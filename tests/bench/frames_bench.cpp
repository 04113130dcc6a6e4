#include "tests/bench/frames_bench.hpp"

#include <chrono>
#include <cstring>
#include <zstd.h>

#include "runtime/files.hpp"
#include "runtime/frames.hpp"
#include "runtime/limits.hpp"
#include "tests/bench/mixed_frames.hpp"
#include "tests/support/made_frames.hpp"

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

constexpr std::size_t hour = 3600 * 40;
constexpr std::size_t minutes_at_level_19 = 6;

}  // namespace

std::vector<Row> frames_rows() {
    const runtime::FramesInfo info = mixed_info();
    const std::string path = test::scratch("bench.frames");
    double made = 0, writing = 0, raw = 0;

    // Frames are made in pieces that fit in memory; making them is not counted.
    MixedFrames ours(1), theirs(1);
    runtime::FramesWriter writer;
    (void)writer.open(path, info);
    RawStream level_3(3);
    runtime::Bytes copy(info.frame_bytes() * mixed_piece);
    for (std::size_t n = 0; n < hour; n += mixed_piece) {
        const runtime::Bytes& piece = ours.next();
        writing += timed([&] {
            for (std::size_t i = 0; i < mixed_piece; ++i)
                (void)writer.frame(std::span(piece).subspan(i * info.frame_bytes(), info.frame_bytes()));
        });
        raw += timed([&] {
            std::memcpy(copy.data(), piece.data(), piece.size());
            level_3.add(copy);
        });
    }
    writing += timed([&] { (void)writer.commit(); });
    raw += timed([&] { made = level_3.finish(); });

    // Level 19 takes minutes for an hour: both sides of the size are of the first minutes.
    RawStream level_19(19);
    (void)writer.open(path, info);
    for (std::size_t n = 0; n < minutes_at_level_19 * 60 * 40; n += mixed_piece) {
        const runtime::Bytes& piece = theirs.next();
        level_19.add(piece);
        for (std::size_t i = 0; i < mixed_piece; ++i)
            (void)writer.frame(std::span(piece).subspan(i * info.frame_bytes(), info.frame_bytes()));
    }
    (void)writer.commit();
    const auto file = runtime::read_file(path, runtime::limits::file_bytes);
    const double size = file.ok() ? static_cast<double>(file->size()) : 0;
    return {
        {"write an hour of frames, 8 universes", "s", writing, raw, Row::Goal::at_most, 1.0},
        {"size of 6 minutes of frames, 8 universes", "bytes", size, level_19.finish(), Row::Goal::at_most, 0.75}};
}

}  // namespace tallow::bench
