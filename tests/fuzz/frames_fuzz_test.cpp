#include "tests/fuzz/frames_fuzz.hpp"

#include <catch2/catch.hpp>

#include "runtime/bytes.hpp"
#include "tests/fuzz/mutate.hpp"
#include "tests/support/made_frames.hpp"

using namespace tallow;

TEST_CASE("spoilt frames files are read without harm", "[fuzz][frames]") {
    const auto file = test::packed(test::made_show(4, {{1, 16}, {2, 5}}, 200));
    for (std::uint64_t seed = 0; seed < 1000; ++seed) {
        const std::string spoilt = test::mutate(runtime::as_text(file), seed);
        CAPTURE(seed);
        REQUIRE_NOTHROW(test::fuzz_frames(runtime::as_bytes(spoilt)));
    }
}
