// The entry of a coverage-guided fuzz program: CMake builds one for each TALLOW_FUZZ_TARGET.
#include "tests/fuzz/format_fuzz.hpp"
#include "tests/fuzz/frames_fuzz.hpp"
#include "tests/fuzz/keys_fuzz.hpp"
#include "tests/fuzz/parser_fuzz.hpp"
#include "tests/fuzz/roll_fuzz.hpp"
#include "tests/fuzz/serial_fuzz.hpp"
#include "tests/fuzz/state_fuzz.hpp"
#include "tests/fuzz/triggers_fuzz.hpp"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* bytes, std::size_t size) {
    tallow::test::TALLOW_FUZZ_TARGET({bytes, size});
    return 0;
}
