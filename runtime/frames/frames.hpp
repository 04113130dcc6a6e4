// Frames files: every slot of every frame of a show, packed. FORMATS.md describes them byte for byte.
#pragma once

#include <cstdint>
#include <memory>
#include <span>
#include <string>
#include <vector>

#include "runtime/bytes.hpp"
#include "runtime/roll/roll.hpp"
#include "runtime/status.hpp"

namespace tallow::runtime {

class ByteSource;

// Where a cue begins in a frames file: the first frame at or after its GO.
struct CueMark {
    std::uint64_t frame = 0;
    std::uint32_t cue = 0;  // number in thousandths
    bool operator==(const CueMark&) const = default;
};

// What holds for a whole file.
struct FramesInfo {
    std::uint32_t refresh = 40;       // frames per second, 1..44
    std::vector<Universe> universes;  // by growing number
    std::uint64_t roll_digest = 0;    // hash() of the roll's text; 0 for none
    // Slots in all universes: the bytes of one frame.
    std::size_t frame_bytes() const;
    bool operator==(const FramesInfo&) const = default;
};

// Writes a frames file piece by piece: open, then for each frame its marks and its slots, then commit.
// Nothing stands at the path before commit(). A failure names the path and what the system said; after one,
// the writer is of no more use.
class FramesWriter {
  public:
    FramesWriter();
    ~FramesWriter();
    Status open(const std::string& path, const FramesInfo& info);
    // The frame that comes next begins this cue. Any number of cues may begin on one frame.
    void mark(std::uint32_t cue);
    // One frame: the slots of all universes, one after the other, frame_bytes() of them. One that equals the
    // frame before costs a comparison and next to no room.
    Status frame(std::span<const std::uint8_t> slots);
    Status commit();

  private:
    struct State;
    std::unique_ptr<State> s_;
};

// Reads a frames file, from anywhere to anywhere. One that is cut or damaged plays up to its last good chunk,
// and damage() says so. Holds one chunk in memory (limits::chunk_bytes packed and unpacked), one frame, and
// the index.
class FramesReader {
  public:
    static Result<FramesReader> open(const std::string& path);
    static Result<FramesReader> from_bytes(Bytes bytes);
    FramesReader(FramesReader&&) noexcept;
    FramesReader& operator=(FramesReader&&) noexcept;
    ~FramesReader();

    const FramesInfo& info() const;
    std::uint64_t frames() const;               // that can be read; fewer once damage is found
    const std::vector<CueMark>& marks() const;  // by growing frame, all before frames()
    const std::string& damage() const;          // one sentence, or empty; it may come while frames are read
    // The slots of frame n, valid until the next call; empty at or past frames(), or when its chunk is found
    // damaged.
    std::span<const std::uint8_t> frame(std::uint64_t n);

  private:
    struct State;
    explicit FramesReader(std::unique_ptr<State> s);
    static Result<FramesReader> from_source(std::unique_ptr<ByteSource> source);
    std::unique_ptr<State> s_;
};

// Whether a file with these first bytes (8 suffice) is a frames file.
bool is_frames_file(std::span<const std::uint8_t> head);
// The same of a file on disk, of which no more is read. Fails when it cannot be.
Result<bool> holds_frames(const std::string& path);

}  // namespace tallow::runtime
