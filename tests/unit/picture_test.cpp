#include "runtime/engine/picture.hpp"

#include <catch2/catch.hpp>

#include "runtime/roll/roll_io.hpp"
#include "tests/support/random_roll.hpp"
#include "tests/support/simple_roll.hpp"

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

TEST_CASE("a list stands for what its cues stated and did not let go of", "[unit][roll]") {
    Roll roll = test::rig({Kind::intensity, Kind::colour, Kind::colour, Kind::colour});
    roll.parameters.home[1] = 777;
    test::add_cue(roll, {}, {{3, 9}});
    test::add_list(roll, "side");
    test::add_cue(roll, {}, {{0, 1}, {1, 2}});
    test::add_cue(roll, {}, {{2, 3}}).sets[0].releases = {{1, 1}};
    Tracked tracked;
    fold_picture(roll, 2, tracked);
    CHECK(tracked.stands == std::vector<std::uint8_t>{1, 0, 1, 0});
    CHECK(tracked.level == std::vector<Level>{1, 777, 3, 0});
    CHECK(pack_picture(2, tracked) == Picture{2, {1, 3}, {none, none}, {{0, 1}, {2, 1}}});
    fold_picture(roll, 1, tracked);
    CHECK(pack_picture(1, tracked) == Picture{1, {1, 2}, {none, none}, {{0, 2}}});
}

TEST_CASE("pictures are counted list by list", "[unit][roll]") {
    Roll roll = test::rig({Kind::intensity});
    for (const char* name : {"", "side", "third"}) {
        if (*name != 0) test::add_list(roll, name);
        for (Level i = 0; i < (*name == 's' ? 63 : 130); ++i) test::add_cue(roll, {}, {{0, i}});
    }
    Tracked tracked;
    for (const std::uint32_t cue : {63u, 127u, 130u + 63 + 63, 130u + 63 + 127}) {
        fold_picture(roll, cue, tracked);
        roll.pictures.push_back(pack_picture(cue, tracked));
    }
    REQUIRE(validate(roll).why() == "");
    roll.pictures[2].level = {50000};  // so that its use shows
    fold_picture(roll, 130 + 63 + 63, tracked);
    CHECK(tracked.level[0] == 50000);
    fold_picture(roll, 130 + 63 + 62, tracked);
    CHECK(tracked.level[0] == 62);
    fold_picture(roll, 130 + 62, tracked);
    CHECK(tracked.level[0] == 62);
    roll.pictures[2].cue = 130 + 63;
    CHECK_THAT(validate(roll).why(), Catch::Contains("`pictures` 2 is of cue 193; it would be of 256"));
}
