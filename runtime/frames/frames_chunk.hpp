// One chunk of a frames file in memory, before it is packed and after it is unpacked.
#pragma once

#include "runtime/frames/frames_format.hpp"

namespace tallow::runtime {

// Gathers frames until the chunk is full, then lays them out by column: a slot's levels over time compress
// far better than a frame's levels side by side.
class ChunkBuilder {
  public:
    explicit ChunkBuilder(std::size_t frame_bytes);
    void mark(std::uint32_t cue);  // the frame that is added next begins this cue
    // Adds a frame; false, and nothing is added, when the chunk has no room for it. An empty chunk has.
    bool add(std::span<const std::uint8_t> frame);
    bool empty() const { return runs_.empty(); }
    std::uint32_t frames() const { return frames_; }
    std::uint32_t distinct() const { return static_cast<std::uint32_t>(runs_.size()); }
    const std::vector<CueMark>& marks() const { return marks_; }  // frames counted from the chunk's first
    void lay_out(Bytes& payload) const;
    void clear();  // marks of a frame that is still to come stay

  private:
    std::size_t frame_bytes_, stride_;  // of a frame; of a row of differences
    std::uint32_t frames_ = 0;
    Bytes first_, last_;
    Bytes differences_;  // a row for each distinct frame but the first: to the one before, mod 256
    Bytes changed_;      // for each slot: 0 while it has not changed
    std::vector<std::uint16_t> runs_;  // how often each distinct frame stands in a row
    std::vector<CueMark> marks_;
    std::vector<std::uint32_t> coming_;
};

// Goes through the frames of an unpacked chunk.
class ChunkCursor {
  public:
    // False when the payload is not what the header says; the cursor is empty then.
    bool open(Bytes payload, const frames_format::ChunkHeader& header, std::size_t frame_bytes);
    const std::vector<CueMark>& marks() const { return marks_; }  // frames counted from the chunk's first
    // The frame `n` of the chunk, n < its frames; quickest in growing order.
    std::span<const std::uint8_t> at(std::uint32_t n);

  private:
    void rewind();
    void step();

    Bytes payload_, frame_;
    std::vector<CueMark> marks_;
    std::size_t first_ = 0, bitmap_ = 0, runs_ = 0, columns_ = 0;  // where these stand in the payload
    std::uint32_t distinct_ = 0;
    std::uint32_t run_ = 0, run_begin_ = 0,
                  run_end_ = 0;  // the distinct frame in frame_, and the frames it stands for
};

}  // namespace tallow::runtime
