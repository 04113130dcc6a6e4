#include "runtime/picture.hpp"

#include <catch2/catch.hpp>

#include "tests/support/random_roll.hpp"

using namespace tallow;
using namespace tallow::runtime;

TEST_CASE("a picture folded from the nearest one kept is the one folded from home", "[unit][roll]") {
    std::size_t with_pictures = 0;
    for (std::uint64_t seed = 1; seed <= 60; ++seed) {
        const Roll kept = test::random_roll(seed).roll;
        Roll bare = kept;
        bare.pictures.clear();
        with_pictures += kept.pictures.size();
        for (std::uint32_t cue = 0; cue < kept.cues.size(); ++cue) {
            Tracked a, b;
            fold_picture(kept, cue, a);
            fold_picture(bare, cue, b);
            CHECK(a == b);
        }
    }
    CHECK(with_pictures > 0);
}

TEST_CASE("a picture is taken from the roll where it holds one", "[unit][roll]") {
    Roll roll;
    for (std::uint64_t seed = 1; roll.pictures.empty(); ++seed) roll = test::random_roll(seed).roll;
    roll.pictures[0].level[0] = static_cast<Level>(roll.pictures[0].level[0] ^ 1);
    Tracked tracked;
    fold_picture(roll, picture_every - 1, tracked);
    CHECK(pack_picture(picture_every - 1, tracked) == roll.pictures[0]);
}
