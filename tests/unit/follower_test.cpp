// A player that stands by: what it would show is what the player that it follows shows, whatever that one
// does, and however it is told of it.
#include "runtime/survival/follower.hpp"

#include <catch2/catch.hpp>

#include "tests/support/random.hpp"
#include "tests/support/random_roll.hpp"

using namespace tallow;
using namespace tallow::runtime;
using namespace tallow::test;

namespace {

void act(const Roll& roll, Performance& show, Random& random, Tick t) {
    using What = Command::What;
    Command c;
    c.index = random.below(static_cast<std::uint32_t>(roll.lists.size()));
    const CueList& list = roll.lists[c.index];
    const std::uint32_t what = random.below(12u);
    if (what < 5) c.what = What::go;
    if (what == 5) c.what = What::back;
    if (what == 6) {
        c.what = What::go_to;
        if (list.count == 0) return;
        c.cue = list.first + random.below(list.count);
    }
    if (what == 7) {
        c.what = random.one_in(2) ? What::stop : What::hold;
        c.ms = 1500;
    }
    if (what == 8) c.what = random.one_in(2) ? What::pause : What::resume;
    if (what == 9) c.what = random.one_in(2) ? What::blackout : What::panic;
    if (what == 10) {
        c.what = What::grand;
        c.level = random.one_in(2) ? full : static_cast<Level>(random.below(65536u));
    }
    if (what == 11) {
        if (roll.submasters.empty()) return;
        c.what = What::submaster;
        c.index = random.below(static_cast<std::uint32_t>(roll.submasters.size()));
        c.level = random.one_in(2) ? Level{0} : static_cast<Level>(random.below(65536u));
    }
    show.obey(c, t);
}

struct Compared {
    std::size_t instants = 0, equal = 0;
};

// A show of a minute; every tenth of a second its state is told, but for one in `lost`.
Compared follow(std::uint64_t seed, unsigned lost) {
    const ExactRoll exact = random_roll(seed);
    const Roll& roll = exact.roll;
    Performance show(roll, Script{});
    Follower follower(roll);
    Random random(seed + 3);
    Compared compared;
    for (Tick t = 0; t < 60000u * 40; t += 4000) {
        while (random.one_in(12)) act(roll, show, random, t - random.below(t == 0 ? 1u : 3999u));
        show.advance(t);
        if (show.overrun()) break;
        if (lost != 0 && random.one_in(lost)) continue;
        // As text, as it comes over the network.
        const auto state = read_state(
            write_state({1, 0, show.paused(), show.standing(), "", show.tape_use()}, roll), roll, 1);
        REQUIRE(state.ok());
        follower.follow(*state);
        ++compared.instants;
        bool equal = true;
        for (std::size_t u = 0; u < roll.universes.size(); ++u) {
            const auto a = show.engine().slots(u), b = follower.performance()->engine().slots(u);
            equal = equal && std::equal(a.begin(), a.end(), b.begin());
        }
        compared.equal += equal;
        CHECK(follower.performance()->paused() == show.paused());
        CHECK(follower.performance()->tape_use() == show.tape_use());
        CHECK(follower.performance()->standing().lists == show.standing().lists);
    }
    return compared;
}

// The same of many shows together.
Compared follow_all(std::uint64_t seeds, unsigned lost) {
    Compared all;
    for (std::uint64_t seed = 1; seed <= seeds; ++seed) {
        const Compared one = follow(seed, lost);
        all.instants += one.instants;
        all.equal += one.equal;
    }
    return all;
}

}  // namespace

TEST_CASE("a follower shows what the player that it follows shows", "[unit][survival]") {
    const Compared all = follow_all(40, 0);
    CAPTURE(all.instants, all.equal);
    CHECK(all.instants > 15000);
    CHECK(all.equal * 100 > all.instants * 99);
}

TEST_CASE("a follower that misses states has the right cues all the same", "[unit][survival]") {
    const Compared all = follow_all(30, 3);
    CAPTURE(all.instants, all.equal);
    CHECK(all.instants > 7000);
    CHECK(all.equal * 100 > all.instants * 99);
}
