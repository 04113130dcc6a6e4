#include "runtime/frames/frames_format.hpp"

#include <algorithm>
#include <array>
#include <fmt/format.h>
#include <numeric>

#include "runtime/byte_source.hpp"
#include "runtime/hash.hpp"
#include "runtime/limits.hpp"

namespace tallow::runtime {

std::size_t FramesInfo::frame_bytes() const {
    return std::accumulate(universes.begin(), universes.end(), std::size_t{0},
                           [](std::size_t sum, const Universe& u) { return sum + u.slots; });
}

namespace frames_format {
namespace {

// A byte over 127, line ends and an end of text: what a copy as text would spoil shows at once.
constexpr std::array<std::uint8_t, 8> file_magic{0x9f, 'T', 'L', 'W', 'F', '\r', '\n', 0x1a};
constexpr std::array<std::uint8_t, 4> chunk_magic{'T', 'L', 'C', 'K'};
constexpr std::array<std::uint8_t, 8> end_magic{'T', 'L', 'W', 'F', 'E', 'N', 'D', '\n'};
constexpr std::uint16_t version = 1;
constexpr std::size_t chunk_place_bytes = 16, mark_bytes = 12, index_head_bytes = 8;

Status refused(std::string why) {
    return Status::failure(fmt::format("not a frames file that can be read: {}; render the show again", why));
}

// The hash in the header's last 8 bytes: of all that stands before it, then of the universe table.
std::uint64_t header_hash(std::span<const std::uint8_t> bytes) {
    return hash(as_text(bytes.subspan(header_bytes)), hash(as_text(bytes.first(header_bytes - 8))));
}

Status check_universes(const std::vector<Universe>& universes) {
    std::uint32_t last = 0;
    for (const Universe& u : universes) {
        if (u.number <= last || u.number > limits::universe_max)
            return refused(fmt::format("universe {} stands out of order or is not in 1..{}", u.number,
                                       limits::universe_max));
        if (u.slots < 1 || u.slots > limits::slots)
            return refused(
                fmt::format("universe {} has {} slots, not 1..{}", u.number, u.slots, limits::slots));
        last = u.number;
    }
    return {};
}

}  // namespace

Bytes encode(const Header& header) {
    Bytes b(file_magic.begin(), file_magic.end());
    append_little(b, version);
    append_little(b, static_cast<std::uint16_t>(header.info.refresh));
    append_little(b, static_cast<std::uint32_t>(header.info.universes.size()));
    append_little(b, static_cast<std::uint32_t>(header.info.frame_bytes()));
    append_little(b, std::uint32_t{0});
    append_little(b, header.frames);
    append_little(b, header.index_offset);
    append_little(b, header.info.roll_digest);
    b.resize(header_bytes);
    for (const Universe& u : header.info.universes) {
        append_little(b, u.number);
        append_little(b, u.slots);
    }
    put_little(b.data() + header_bytes - 8, header_hash(b));
    return b;
}

Result<Header> decode_header(ByteSource& source) {
    if (source.size() > limits::file_bytes)
        return refused(fmt::format("it is larger than {} bytes", limits::file_bytes));
    Bytes b(header_bytes);
    if (!source.read_at(0, b) || !is_frames_file(b)) return refused("it does not begin as one");
    if (const auto v = get_little<std::uint16_t>(&b[8]); v != version)
        return refused(fmt::format("it is of version {}, and only version {} is known", v, version));
    Header h;
    h.info.refresh = get_little<std::uint16_t>(&b[10]);
    const auto universes = get_little<std::uint32_t>(&b[12]);
    const auto frame_bytes = get_little<std::uint32_t>(&b[16]);
    h.frames = get_little<std::uint64_t>(&b[24]);
    h.index_offset = get_little<std::uint64_t>(&b[32]);
    h.info.roll_digest = get_little<std::uint64_t>(&b[40]);
    if (universes < 1 || universes > limits::universes)
        return refused(fmt::format("it has {} universes, not 1..{}", universes, limits::universes));
    if (universes * universe_bytes > source.size() - header_bytes) return refused("its head is cut");
    b.resize(header_bytes + universes * universe_bytes);
    if (!source.read_at(0, b)) return refused("its head cannot be read");
    if (header_hash(b) != get_little<std::uint64_t>(&b[header_bytes - 8]))
        return refused("its head is damaged");
    for (std::size_t at = header_bytes; at < b.size(); at += universe_bytes)
        h.info.universes.push_back(
            {get_little<std::uint16_t>(&b[at]), get_little<std::uint16_t>(&b[at + 2])});
    if (h.info.refresh < limits::refresh_min || h.info.refresh > limits::refresh_max)
        return refused(fmt::format("its refresh is {} Hz, not {}..{}", h.info.refresh, limits::refresh_min,
                                   limits::refresh_max));
    if (h.frames > limits::frames)
        return refused(fmt::format("it claims more than {} frames", limits::frames));
    if (auto s = check_universes(h.info.universes); !s.ok()) return s;
    if (frame_bytes != h.info.frame_bytes()) return refused("its frame size is not the sum of its universes");
    return h;
}

Bytes encode(const ChunkHeader& header) {
    Bytes b(chunk_magic.begin(), chunk_magic.end());
    append_little(b, header.frames);
    append_little(b, header.first);
    append_little(b, header.distinct);
    append_little(b, header.packed);
    append_little(b, header.unpacked);
    append_little(b, std::uint32_t{0});
    append_little(b, hash(as_text(b)));
    return b;
}

std::optional<ChunkHeader> decode_chunk_header(std::span<const std::uint8_t, chunk_header_bytes> b) {
    if (!std::equal(chunk_magic.begin(), chunk_magic.end(), b.begin())) return {};
    if (hash(as_text(b.first(chunk_header_bytes - 8))) !=
        get_little<std::uint64_t>(&b[chunk_header_bytes - 8]))
        return {};
    ChunkHeader h;
    h.frames = get_little<std::uint32_t>(&b[4]);
    h.first = get_little<std::uint64_t>(&b[8]);
    h.distinct = get_little<std::uint32_t>(&b[16]);
    h.packed = get_little<std::uint32_t>(&b[20]);
    h.unpacked = get_little<std::uint32_t>(&b[24]);
    const bool sound = h.frames >= 1 && h.frames <= limits::chunk_frames && h.distinct >= 1 &&
                       h.distinct <= h.frames && h.first <= limits::frames - h.frames &&
                       h.unpacked <= limits::chunk_bytes;
    return sound ? std::optional(h) : std::nullopt;
}

Bytes encode(const Index& index) {
    Bytes b;
    append_little(b, static_cast<std::uint32_t>(index.chunks.size()));
    append_little(b, static_cast<std::uint32_t>(index.marks.size()));
    for (const ChunkPlace& c : index.chunks) {
        append_little(b, c.offset);
        append_little(b, c.first);
    }
    for (const CueMark& m : index.marks) {
        append_little(b, m.frame);
        append_little(b, m.cue);
    }
    append_little(b, hash(as_text(b)));
    b.insert(b.end(), end_magic.begin(), end_magic.end());
    return b;
}

std::optional<Index> decode_index(ByteSource& source, const Header& header) {
    const std::uint64_t size = source.size();
    if (header.index_offset < header.size() || header.index_offset > size) return {};
    const std::uint64_t length = size - header.index_offset;
    if (length < index_head_bytes + footer_bytes) return {};
    Bytes b(length);
    if (!source.read_at(header.index_offset, b)) return {};
    const std::uint8_t* footer = b.data() + length - footer_bytes;
    if (!std::equal(end_magic.begin(), end_magic.end(), footer + 8)) return {};
    if (hash(as_text(std::span(b).first(length - footer_bytes))) != get_little<std::uint64_t>(footer))
        return {};
    const std::uint64_t chunks = get_little<std::uint32_t>(&b[0]), marks = get_little<std::uint32_t>(&b[4]);
    if (index_head_bytes + chunks * chunk_place_bytes + marks * mark_bytes + footer_bytes != length)
        return {};

    Index index;
    index.chunks.reserve(chunks);
    index.marks.reserve(marks);
    const std::uint8_t* at = b.data() + index_head_bytes;
    for (std::uint64_t i = 0; i < chunks; ++i, at += chunk_place_bytes) {
        const ChunkPlace c{get_little<std::uint64_t>(at), get_little<std::uint64_t>(at + 8)};
        const bool ordered =
            i == 0 ? c.first == 0 && c.offset == header.size()
                   : c.first > index.chunks.back().first && c.offset > index.chunks.back().offset;
        if (!ordered || c.first >= header.frames || c.offset >= header.index_offset) return {};
        index.chunks.push_back(c);
    }
    for (std::uint64_t i = 0; i < marks; ++i, at += mark_bytes) {
        const CueMark m{get_little<std::uint64_t>(at), get_little<std::uint32_t>(at + 8)};
        if (m.frame >= header.frames || (i > 0 && m.frame < index.marks.back().frame)) return {};
        index.marks.push_back(m);
    }
    if ((header.frames == 0) != index.chunks.empty()) return {};
    return index;
}

}  // namespace frames_format

bool is_frames_file(std::span<const std::uint8_t> head) {
    const auto& magic = frames_format::file_magic;
    return head.size() >= magic.size() && std::equal(magic.begin(), magic.end(), head.begin());
}

}  // namespace tallow::runtime
