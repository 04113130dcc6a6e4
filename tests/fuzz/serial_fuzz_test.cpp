#include "tests/fuzz/serial_fuzz.hpp"

#include <catch2/catch.hpp>
#include <string>

#include "runtime/bytes.hpp"
#include "tests/fuzz/mutate.hpp"

using namespace tallow;

TEST_CASE("spoilt names of serial ports are read or refused", "[fuzz][serial]") {
    int read = 0, refused = 0;
    for (std::uint64_t seed = 0; seed < 5000; ++seed) {
        const std::string spoilt = test::mutate(seed % 2 ? "/dev/ttyUSB0=63999" : "/dev/ttyUSB0", seed);
        CAPTURE(seed);
        bool taken = false;
        REQUIRE_NOTHROW(taken = test::fuzz_serial(runtime::as_bytes(spoilt)));
        (taken ? read : refused)++;
    }
    CHECK(read > 500);
    CHECK(refused > 500);
}
