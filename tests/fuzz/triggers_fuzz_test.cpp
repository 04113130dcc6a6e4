#include "tests/fuzz/triggers_fuzz.hpp"

#include <catch2/catch.hpp>

#include "runtime/bytes.hpp"
#include "runtime/control/osc_packet.hpp"
#include "tests/fuzz/mutate.hpp"

using namespace tallow;

namespace {

template <class Fuzz>
void try_spoilt(std::string_view base, Fuzz fuzz) {
    for (std::uint64_t seed = 0; seed < 10000; ++seed) {
        const std::string spoilt = test::mutate(base, seed);
        CAPTURE(seed);
        REQUIRE_NOTHROW(fuzz(runtime::as_bytes(spoilt)));
    }
}

}  // namespace

TEST_CASE("spoilt OSC packets are read without harm", "[fuzz][osc]") {
    using namespace std::string_view_literals;
    try_spoilt("/tallow/stop\0\0\0\0,shfTd\0\0side\0\0\0\0\0\0\0\0\0\0\0\2\x3f\0\0\0\x40\x28\0\0\0\0\0\0"sv,
               test::fuzz_osc);
    try_spoilt(
        "#bundle\0\0\0\0\0\0\0\0\1\0\0\0\x20#bundle\0\0\0\0\0\0\0\0\1\0\0\0\x0c/go\0,i\0\0\0\0\0\5"
        "\0\0\0\x1c/tallow/submaster/3\0,f\0\0\x3f\0\0\0\0\0\0\x10/tallow/go\0\0,\0\0\0"sv,
        test::fuzz_osc);
}

TEST_CASE("spoilt MIDI bytes are read without harm", "[fuzz][midi]") {
    using namespace std::string_view_literals;
    try_spoilt(
        "\x90\x3c\x64\x3d\x64\xf0\x7f\x7f\x02\x01\x01\x31\x32\x2e\x35\0\x32\xf7"
        "\xf1\x04\xf1\x11\xf1\x23\xf1\x32\xf1\x4e\xf1\x51\xf1\x61\xf1\x76"
        "\xf1\x06\xf1\x11\xf1\x23\xf1\x32\xf1\x4e\xf1\x51\xf1\x61\xf1\x76"
        "\xf0\x7f\x7f\x01\x01\x61\x1e\x23\x14\xf7\xf8\xf0\x7f\0\x02\x7f\x02\xf7"sv,
        test::fuzz_midi);
}
