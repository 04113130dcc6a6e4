#include "tests/support/made_frames.hpp"

#include <algorithm>
#include <filesystem>
#include <stdexcept>
#include <unistd.h>

#include "runtime/byte_source.hpp"
#include "runtime/files.hpp"
#include "runtime/limits.hpp"
#include "tests/support/random.hpp"

namespace tallow::test {
namespace {

using runtime::Bytes;

void need(const runtime::Status& s) {
    if (!s.ok()) throw std::runtime_error(s.why());
}

// What one slot does: goes from one level to another, or runs up and down.
struct Motion {
    std::size_t slot = 0;
    std::uint8_t from = 0, to = 0;
    std::size_t begin = 0, length = 1;
    bool wave = false;
    std::uint8_t at(std::size_t n) const {
        const std::size_t t = n - begin;
        if (!wave)
            return static_cast<std::uint8_t>(
                t >= length ? to : from + (to - from) * static_cast<int>(t) / static_cast<int>(length));
        const std::size_t phase = t % (2 * length);
        const int way = static_cast<int>(phase < length ? phase : 2 * length - phase);
        return static_cast<std::uint8_t>(from + (to - from) * way / static_cast<int>(length));
    }
};

// A cue on frame n: up to a quarter of the slots begin to move.
void begin_cue(std::vector<Motion>& motions, const Bytes& now, std::size_t n, Random& random) {
    motions.clear();
    const std::size_t length = 1 + random.below(120);
    const bool wave = random.below(3) == 0;
    for (std::size_t i = 0; i < now.size(); ++i)
        if (random.below(4) == 0)
            motions.push_back({i, now[i], static_cast<std::uint8_t>(random.bits()), n, length, wave});
}

}  // namespace

MadeShow made_show(std::uint64_t seed, std::vector<runtime::Universe> universes, std::size_t frames) {
    Random random(seed);
    MadeShow show;
    show.info = {40, std::move(universes), seed};
    Bytes now(show.info.frame_bytes());
    std::vector<Motion> motions;
    std::uint32_t cue = 0;
    for (std::size_t n = 0; n < frames; ++n) {
        if (random.below(100) == 0) {
            begin_cue(motions, now, n, random);
            show.marks.push_back({n, cue += 500});
        }
        for (const Motion& m : motions) now[m.slot] = m.at(n);
        show.frames.push_back(now);
    }
    return show;
}

void write_made(const MadeShow& show, const std::string& path) {
    runtime::FramesWriter writer;
    need(writer.open(path, show.info));
    std::size_t mark = 0;
    for (std::size_t n = 0; n < show.frames.size(); ++n) {
        for (; mark < show.marks.size() && show.marks[mark].frame == n; ++mark)
            writer.mark(show.marks[mark].cue);
        need(writer.frame(show.frames[n]));
    }
    need(writer.commit());
}

Bytes packed(const MadeShow& show) {
    const std::string path = scratch("made.frames");
    write_made(show, path);
    const auto text = runtime::read_file(path, runtime::limits::file_bytes);
    need(text.status());
    const auto bytes = runtime::as_bytes(*text);
    return {bytes.begin(), bytes.end()};
}

std::string hex_slots(const Bytes& frame, std::size_t at, std::size_t slots) {
    static constexpr char digits[] = "0123456789abcdef";
    std::string text;
    for (std::size_t i = 0; i < runtime::limits::slots; ++i) {
        const unsigned v = i < slots ? frame[at + i] : 0;
        text += {digits[v >> 4], digits[v & 15]};
    }
    return text;
}

std::string scratch(const std::string& name) {
    // A folder for each process, since CTest runs several at once.
    static const struct Folder {
        std::filesystem::path path = TALLOW_BUILD_DIR "/scratch-" + std::to_string(::getpid());
        Folder() { std::filesystem::create_directories(path); }
        ~Folder() {
            std::error_code ignored;
            std::filesystem::remove_all(path, ignored);
        }
    } folder;
    return folder.path / name;
}

}  // namespace tallow::test
