#include "runtime/engine/integers.hpp"

#include <catch2/catch.hpp>

using namespace tallow::runtime;

TEST_CASE("narrowing agrees with (w + 128) / 257 at every level", "[unit][integers]") {
    for (std::uint32_t w = 0; w <= 65535; ++w) REQUIRE(narrow(static_cast<Level>(w)) == (w + 128) / 257);
}

TEST_CASE("an 8-bit slot survives widening", "[unit][integers]") {
    for (std::uint32_t s = 0; s <= 255; ++s) REQUIRE(narrow(widen(static_cast<std::uint8_t>(s))) == s);
}

TEST_CASE("a product of levels is the exact product rounded to nearest", "[unit][integers]") {
    for (std::uint32_t a = 0; a <= 65535; a += 13)
        for (std::uint32_t b = 0; b <= 65535; b += 97) {
            const std::uint64_t twice = 2ull * a * b + 65535;  // floor((2ab + 65535) / 131070)
            REQUIRE(scaled(static_cast<Level>(a), static_cast<Level>(b)) == twice / 131070);
        }
    REQUIRE(scaled(full, full) == full);
}

TEST_CASE("a blend is exact at both ends and never leaves them", "[unit][integers]") {
    for (std::uint32_t a = 0; a <= 65535; a += 251)
        for (std::uint32_t b = 0; b <= 65535; b += 257) {
            REQUIRE(blend(static_cast<Level>(a), static_cast<Level>(b), 0) == a);
            REQUIRE(blend(static_cast<Level>(a), static_cast<Level>(b), whole) == b);
            const Level mid = blend(static_cast<Level>(a), static_cast<Level>(b), whole / 2);
            REQUIRE((mid >= std::min(a, b) && mid <= std::max(a, b)));
        }
}
