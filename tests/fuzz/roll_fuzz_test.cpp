#include "tests/fuzz/roll_fuzz.hpp"

#include <catch2/catch.hpp>
#include <string>

#include "runtime/roll/roll_io.hpp"
#include "tests/fuzz/mutate.hpp"
#include "tests/support/random.hpp"
#include "tests/support/random_roll.hpp"

using namespace tallow::test;

namespace {

bool fuzz(std::string_view text) {
    return fuzz_roll({reinterpret_cast<const std::uint8_t*>(text.data()), text.size()});
}

}  // namespace

TEST_CASE("rolls, damaged rolls and noise are played or refused", "[fuzz][roll]") {
    int read = 0, refused = 0;
    for (std::uint64_t seed = 1; seed <= 1000; ++seed) {
        const std::string whole = tallow::runtime::write_roll(random_roll(1 + seed % 50).roll);
        (fuzz(mutate(whole, seed)) ? read : refused)++;
    }
    // Damage to a level is played, damage to the order is not: both must come up.
    CHECK(read > 20);
    CHECK(refused > 500);
    for (std::uint64_t seed = 1; seed <= 1000; ++seed) {
        Random random(seed);
        std::string noise(random.below(200u), '\0');
        for (char& c : noise) c = "{}[]\",:0123456789-rolcues\\"[random.below(26)];
        CHECK_FALSE(fuzz(noise));
    }
}
