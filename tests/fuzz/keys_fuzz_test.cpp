#include "tests/fuzz/keys_fuzz.hpp"

#include <catch2/catch.hpp>

#include "tests/fuzz/mutate.hpp"

using namespace tallow;

TEST_CASE("any bytes are keys and labels without harm", "[fuzz][console]") {
    const std::string base =
        " b h k x p p c12.5\r s\r l g ? 13 \033[A\033[B\033[5~\033[6~\033OA\033OM\033[[B\033[1;5C q\033 q\r"
        "\033[200~ k\r\033[201~\003\014\177 e\u0301\u0302 舞台 \u202E\u200D \xff\xc3(\x9b\033]0;a\007";
    for (std::uint64_t seed = 0; seed < 500; ++seed) {
        const std::string spoilt = test::mutate(base, seed);
        CAPTURE(seed);
        REQUIRE_NOTHROW(test::fuzz_keys(runtime::as_bytes(spoilt)));
    }
}
