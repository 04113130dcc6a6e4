#include <catch2/catch.hpp>

#include "runtime/engine/engine.hpp"
#include "tests/support/allocations.hpp"
#include "tests/support/random.hpp"
#include "tests/support/random_roll.hpp"

using namespace tallow;
using namespace tallow::runtime;

TEST_CASE("the count sees an allocation", "[unit][engine]") {
    const std::size_t before = test::allocations();
    const std::vector<int> column(1000);
    CHECK(test::allocations() > before);
    CHECK(column.size() == 1000);
}

TEST_CASE("an engine that plays allocates nothing", "[unit][engine]") {
    std::size_t started = 0;
    for (std::uint64_t seed = 1; seed <= 100; ++seed) {
        const test::ExactRoll exact = test::random_roll(seed);
        const auto lists = static_cast<std::uint32_t>(exact.roll.lists.size());
        const auto submasters = static_cast<std::uint32_t>(exact.roll.submasters.size());
        Engine engine(exact.roll);
        test::Random random(seed);
        const std::size_t before = test::allocations();
        for (Tick t = 0; t < 300000; t += 1 + random.below(3000u)) {
            engine.advance(t);
            if (random.one_in(8)) started += engine.go(random.below(lists), t);
            if (random.one_in(12)) started += engine.back(random.below(lists), t);
            if (random.one_in(50)) engine.hold(random.below(lists), t);
            if (random.one_in(30)) engine.timecode(t, random.below(Tick{150000}));
            if (random.one_in(90)) engine.timecode_stop(t);
            if (random.one_in(20)) engine.set_master(random.one_in(2) ? full : level_half, t);
            if (random.one_in(20)) engine.set_panic(random.one_in(2), t);
            if (submasters > 0 && random.one_in(9))
                engine.set_submaster(random.below(submasters), random.one_in(2) ? Level{0} : full, t);
        }
        const std::size_t after = test::allocations();
        CHECK(after == before);
    }
    CHECK(started > 1000);
}
