#include "tests/fuzz/frames_fuzz.hpp"

#include <stdexcept>

#include "runtime/frames.hpp"

namespace tallow::test {

void fuzz_frames(std::span<const std::uint8_t> bytes) {
    auto reader = runtime::FramesReader::from_bytes({bytes.begin(), bytes.end()});
    if (!reader.ok()) return;
    std::uint64_t n = 0;
    while (reader->frame(n).size() == reader->info().frame_bytes()) ++n;
    // Whatever the bytes: what is announced is what can be read.
    if (n != reader->frames())
        throw std::logic_error("frames() is not the number of frames that can be read");
    for (const runtime::CueMark& m : reader->marks())
        if (m.frame >= n) throw std::logic_error("a mark stands behind the last frame");
}

}  // namespace tallow::test
