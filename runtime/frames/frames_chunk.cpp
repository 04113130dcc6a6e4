// The payload of a chunk: count of marks, marks, first frame, bitmap of slots that change, runs, and for each
// slot that changes one column with its differences from distinct frame to distinct frame (mod 256).
#include "runtime/frames/frames_chunk.hpp"

#include <algorithm>
#include <array>
#include <bit>
#include <cstring>

#include "runtime/limits.hpp"

namespace tallow::runtime {
namespace {

// Distinct frames that a chunk gathers: enough for columns to repeat in, little enough to unpack between two
// frames.
constexpr std::size_t gathered_bytes = std::size_t{1} << 20;
constexpr std::size_t marks_head = 4, mark_bytes = 8, run_bytes = 2;
constexpr std::size_t tile = 8;         // slots and frames that are transposed at once
constexpr std::size_t cache_line = 64;  // bytes

constexpr std::size_t bitmap_bytes(std::size_t frame_bytes) {
    return (frame_bytes + 7) / 8;
}

// The differences from `last` to `frame`, which becomes the last one; `changed` gathers where there are any.
void take_differences(const std::uint8_t* __restrict frame, std::uint8_t* __restrict last,
                      std::uint8_t* __restrict differences, std::uint8_t* __restrict changed,
                      std::size_t size) {
    for (std::size_t i = 0; i < size; ++i) {
        differences[i] = static_cast<std::uint8_t>(frame[i] - last[i]);
        changed[i] = static_cast<std::uint8_t>(changed[i] | differences[i]);
        last[i] = frame[i];
    }
}

// Rows of 8 bytes to columns, by exchanging ever larger blocks across the diagonal.
void transpose(std::array<std::uint64_t, tile>& m) {
    constexpr std::array<std::uint64_t, 3> low{0x00ff00ff00ff00ffu, 0x0000ffff0000ffffu, 0x00000000ffffffffu};
    for (unsigned step = 0; step < 3; ++step) {
        const unsigned apart = 1u << step, bits = 8u << step;
        for (unsigned i = 0; i < tile; ++i) {
            if (i & apart) continue;
            const std::uint64_t swap = ((m[i] >> bits) ^ m[i + apart]) & low[step];
            m[i] ^= swap << bits;
            m[i + apart] ^= swap;
        }
    }
}

// A block of 8 rows, `stride` bytes apart, of eight neighbouring slots into their columns, where they have
// one. The columns are zero before.
void turn_block(const std::uint8_t* rows, std::size_t stride, std::uint8_t* const* column, std::size_t k) {
    std::array<std::uint64_t, tile> block;
    std::uint64_t any = 0;
    for (std::size_t i = 0; i < tile; ++i)
        any |= block[i] = get_little<std::uint64_t>(rows + (k + i) * stride);
    if (any == 0) return;
    transpose(block);
    for (std::size_t i = 0; i < tile; ++i)
        if (column[i]) put_little(column[i] + k, block[i]);
}

// Writes the columns of neighbouring slots (those whose bit is set) one behind the other at `out`. `rows` is
// the first row's first of these slots; so many of them as lie in one line of the cache. Returns the end of
// what was written.
std::uint8_t* write_columns(const std::uint8_t* rows, std::size_t stride, std::size_t slots,
                            std::size_t length, const std::uint8_t* bitmap, std::uint8_t* out) {
    std::array<std::uint8_t*, cache_line> column{};
    for (std::size_t i = 0; i < slots; ++i) {
        if (!(bitmap[i / 8] >> i % 8 & 1)) continue;
        column[i] = out;
        out += length;
    }
    std::size_t k = 0;
    for (; k + tile <= length; k += tile)
        for (std::size_t i = 0; i < slots; i += tile)
            if (bitmap[i / 8] != 0) turn_block(rows + i, stride, &column[i], k);
    for (; k < length; ++k)
        for (std::size_t i = 0; i < slots; ++i)
            if (column[i]) column[i][k] = rows[k * stride + i];
    return out;
}

}  // namespace

ChunkBuilder::ChunkBuilder(std::size_t frame_bytes)
    : frame_bytes_(frame_bytes),
      stride_((frame_bytes + tile - 1) / tile * tile),
      first_(frame_bytes),
      last_(frame_bytes),
      changed_(frame_bytes) {}

void ChunkBuilder::mark(std::uint32_t cue) {
    coming_.push_back(cue);
}

bool ChunkBuilder::add(std::span<const std::uint8_t> frame) {
    if (frames_ == limits::chunk_frames) return false;
    if (empty()) {
        std::copy(frame.begin(), frame.end(), first_.begin());
        std::copy(frame.begin(), frame.end(), last_.begin());
        runs_.push_back(1);
    } else if (std::memcmp(last_.data(), frame.data(), frame_bytes_) == 0) {
        ++runs_.back();
    } else {
        const std::size_t stored = differences_.size();
        if (stored + stride_ > gathered_bytes) return false;
        differences_.resize(stored + stride_);
        take_differences(frame.data(), last_.data(), differences_.data() + stored, changed_.data(),
                         frame_bytes_);
        runs_.push_back(1);
    }
    for (const std::uint32_t cue : coming_) marks_.push_back({frames_, cue});
    coming_.clear();
    ++frames_;
    return true;
}

void ChunkBuilder::lay_out(Bytes& payload) const {
    payload.clear();
    append_little(payload, static_cast<std::uint32_t>(marks_.size()));
    for (const CueMark& m : marks_) {
        append_little(payload, static_cast<std::uint32_t>(m.frame));
        append_little(payload, m.cue);
    }
    payload.insert(payload.end(), first_.begin(), first_.end());

    Bytes bitmap(bitmap_bytes(frame_bytes_));
    std::size_t columns = 0;
    for (std::size_t i = 0; i < frame_bytes_; ++i) {
        if (changed_[i] == 0) continue;
        bitmap[i / 8] = static_cast<std::uint8_t>(bitmap[i / 8] | 1u << i % 8);
        ++columns;
    }
    payload.insert(payload.end(), bitmap.begin(), bitmap.end());
    for (const std::uint16_t run : runs_) append_little(payload, run);

    if (columns == 0) return;
    const std::size_t head = payload.size(), length = runs_.size() - 1;
    payload.resize(head + columns * length);
    std::uint8_t* out = payload.data() + head;
    for (std::size_t i = 0; i < frame_bytes_; i += cache_line)
        out = write_columns(differences_.data() + i, stride_, std::min(cache_line, frame_bytes_ - i), length,
                            bitmap.data() + i / 8, out);
}

void ChunkBuilder::clear() {
    frames_ = 0;
    differences_.clear();
    std::fill(changed_.begin(), changed_.end(), std::uint8_t{0});
    runs_.clear();
    marks_.clear();
}

bool ChunkCursor::open(Bytes payload, const frames_format::ChunkHeader& header, std::size_t frame_bytes) {
    distinct_ = 0;
    marks_.clear();
    payload_ = std::move(payload);
    const std::size_t size = payload_.size();
    const std::size_t fixed =
        marks_head + frame_bytes + bitmap_bytes(frame_bytes) + header.distinct * run_bytes;
    if (size < fixed) return false;
    const std::size_t marks = get_little<std::uint32_t>(payload_.data());
    if (marks > (size - fixed) / mark_bytes) return false;
    for (std::size_t i = 0; i < marks; ++i) {
        const std::uint8_t* at = payload_.data() + marks_head + i * mark_bytes;
        const CueMark m{get_little<std::uint32_t>(at), get_little<std::uint32_t>(at + 4)};
        if (m.frame >= header.frames || (i > 0 && m.frame < marks_.back().frame)) return false;
        marks_.push_back(m);
    }
    first_ = marks_head + marks * mark_bytes;
    bitmap_ = first_ + frame_bytes;
    runs_ = bitmap_ + bitmap_bytes(frame_bytes);
    columns_ = runs_ + header.distinct * run_bytes;

    std::uint64_t columns = 0, frames = 0;
    for (std::size_t i = bitmap_; i < runs_; ++i)
        columns += static_cast<unsigned>(std::popcount(payload_[i]));
    for (std::uint32_t i = 0; i < header.distinct; ++i) {
        const auto run = get_little<std::uint16_t>(&payload_[runs_ + i * run_bytes]);
        if (run == 0) return false;
        frames += run;
    }
    const bool stray_bit = frame_bytes % 8 != 0 && payload_[runs_ - 1] >> frame_bytes % 8 != 0;
    if (stray_bit || frames != header.frames || columns * (header.distinct - 1) != size - columns_)
        return false;
    distinct_ = header.distinct;
    frame_.resize(frame_bytes);
    rewind();
    return true;
}

std::span<const std::uint8_t> ChunkCursor::at(std::uint32_t n) {
    if (n < run_begin_) rewind();
    while (n >= run_end_) step();
    return frame_;
}

void ChunkCursor::rewind() {
    std::copy_n(payload_.begin() + static_cast<std::ptrdiff_t>(first_), frame_.size(), frame_.begin());
    run_ = 0;
    run_begin_ = 0;
    run_end_ = get_little<std::uint16_t>(&payload_[runs_]);
}

void ChunkCursor::step() {
    const std::size_t length = distinct_ - 1;
    const std::uint8_t* difference = payload_.data() + columns_ + run_;
    for (std::size_t i = bitmap_; i < runs_; ++i)
        for (unsigned bits = payload_[i]; bits != 0; bits &= bits - 1) {
            std::uint8_t& level = frame_[(i - bitmap_) * 8 + static_cast<unsigned>(std::countr_zero(bits))];
            level = static_cast<std::uint8_t>(level + *difference);
            difference += length;
        }
    ++run_;
    run_begin_ = run_end_;
    run_end_ += get_little<std::uint16_t>(&payload_[runs_ + run_ * run_bytes]);
}

}  // namespace tallow::runtime
