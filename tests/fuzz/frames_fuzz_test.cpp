#include "tests/fuzz/frames_fuzz.hpp"

#include <catch2/catch.hpp>

#include "runtime/frames/frames_chunk.hpp"
#include "tests/fuzz/mutate.hpp"
#include "tests/support/made_frames.hpp"

using namespace tallow;

namespace {

void try_spoilt(const runtime::Bytes& base) {
    for (std::uint64_t seed = 0; seed < 1000; ++seed) {
        const std::string spoilt = test::mutate(runtime::as_text(base), seed);
        CAPTURE(seed);
        REQUIRE_NOTHROW(test::fuzz_frames(runtime::as_bytes(spoilt)));
    }
}

}  // namespace

TEST_CASE("spoilt frames files are read without harm", "[fuzz][frames]") {
    try_spoilt(test::packed(test::made_show(4, {{1, 16}, {2, 5}}, 200)));
}

TEST_CASE("spoilt chunks are read without harm", "[fuzz][frames]") {
    const auto show = test::made_show(4, {{1, 16}, {2, 5}}, 300);
    runtime::ChunkBuilder chunk(show.info.frame_bytes());
    chunk.mark(1000);
    for (const auto& frame : show.frames) REQUIRE(chunk.add(frame));
    runtime::Bytes payload, base;
    chunk.lay_out(payload);
    // What the fuzzer takes the frames, the distinct frames and the bytes of a frame from.
    for (const std::size_t n : {chunk.frames() - 1, chunk.distinct() - 1, std::uint32_t{16 + 5 - 1}})
        runtime::append_little(base, static_cast<std::uint16_t>(n));
    base.insert(base.end(), payload.begin(), payload.end());
    try_spoilt(base);
}
