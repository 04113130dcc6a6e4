#include "tests/fuzz/parser_fuzz.hpp"

#include <catch2/catch.hpp>
#include <string>

#include "runtime/files.hpp"
#include "tests/fuzz/mutate.hpp"
#include "tests/fuzz/token_mutate.hpp"
#include "tests/support/random.hpp"

using namespace tallow::test;

namespace {

bool fuzz(std::string_view text) {
    return fuzz_parser({reinterpret_cast<const std::uint8_t*>(text.data()), text.size()});
}

}  // namespace

TEST_CASE("shows, damaged shows and noise are compiled or refused", "[fuzz][parser]") {
    const auto corpus = tallow::runtime::read_file(TALLOW_SOURCE_DIR "/tests/fuzz/corpus.tallow", 1 << 20);
    REQUIRE(corpus.ok());
    REQUIRE(fuzz(*corpus));
    int clean = 0, refused = 0;
    for (std::uint64_t seed = 1; seed <= 1000; ++seed) {
        (fuzz(mutate(*corpus, seed)) ? clean : refused)++;
        (fuzz(mutate_tokens(*corpus, seed)) ? clean : refused)++;
    }
    CHECK(clean > 20);
    CHECK(refused > 1000);
    for (std::uint64_t seed = 1; seed <= 1000; ++seed) {
        Random random(seed);
        std::string noise(random.below(300u), '\0');
        for (char& c : noise)
            c = random.one_in(3) ? static_cast<char>(random.bits())
                                 : "cue 1..4 50%\n    ,\"#-/()xfade"[random.below(30)];
        fuzz(noise);
    }
}
