// The fixed parts of a frames file, to and from bytes (FORMATS.md). Each decoder checks its limits before it
// allocates.
#pragma once

#include <optional>

#include "runtime/frames/frames.hpp"

namespace tallow::runtime::frames_format {

inline constexpr std::size_t header_bytes = 64;
inline constexpr std::size_t universe_bytes = 4;
inline constexpr std::size_t chunk_header_bytes = 40;
inline constexpr std::size_t footer_bytes = 16;

struct Header {
    FramesInfo info;
    std::uint64_t frames = 0, index_offset = 0;  // 0 while the file is being written
    std::size_t size() const { return header_bytes + info.universes.size() * universe_bytes; }
};
Bytes encode(const Header& header);
Result<Header> decode_header(ByteSource& source);

struct ChunkHeader {
    std::uint64_t first = 0;                 // frame
    std::uint32_t frames = 0, distinct = 0;  // frames in it; of these, how many differ from the one before
    std::uint32_t packed = 0, unpacked = 0;  // payload bytes
};
Bytes encode(const ChunkHeader& header);
// Nothing when the bytes are no sound chunk header of a file with such frames.
std::optional<ChunkHeader> decode_chunk_header(std::span<const std::uint8_t, chunk_header_bytes> bytes);

struct ChunkPlace {
    std::uint64_t offset = 0, first = 0;  // of its header in the file; its first frame
};
struct Index {
    std::vector<ChunkPlace> chunks;
    std::vector<CueMark> marks;
};
Bytes encode(const Index& index);  // with the footer
std::optional<Index> decode_index(ByteSource& source, const Header& header);

}  // namespace tallow::runtime::frames_format
