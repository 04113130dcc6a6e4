// An engine that stands as another one did plays on as that one does: random rolls, taken over at random
// instants. Where every fade is complete the slots are equal to the byte; in a fade the last GOs are played
// again.
#include <catch2/catch.hpp>

#include "runtime/engine/engine.hpp"
#include "tests/support/random.hpp"
#include "tests/support/random_roll.hpp"
#include "tests/support/simple_roll.hpp"

using namespace tallow;
using namespace tallow::runtime;
using namespace tallow::test;

namespace {

constexpr Tick ms = 40, second = 1000 * ms;  // at 40 frames per second

// Ticks that a cue takes at the most, played in turn or as a jump.
Tick longest(const Roll& roll, std::uint32_t cue) {
    const Cue& c = roll.cues[cue];
    std::uint64_t most = c.complete_ms;
    const auto count = [&](const Timing& t) { most = std::max(most, t.delay + std::max(t.up, t.down)); };
    for (const Timing& t : {c.intensity, c.colour, c.position, c.beam}) count(t);
    for (const Set& set : c.sets) count(set.timing);
    return most * roll.refresh;
}

// When everything that was begun so far is complete.
void extend(const Roll& roll, const Engine& engine, Tick& busy_until) {
    const Tick now = engine.standing().now;
    for (std::uint32_t l = 0; l < roll.lists.size(); ++l)
        busy_until = std::max(busy_until, engine.complete_at(l));
    for (const std::uint32_t cue : engine.begun())
        busy_until = std::max(busy_until, now + longest(roll, cue));
}

bool equal(const Roll& roll, const Engine& a, const Engine& b) {
    for (std::size_t u = 0; u < roll.universes.size(); ++u)
        if (!std::equal(a.slots(u).begin(), a.slots(u).end(), b.slots(u).begin())) return false;
    return true;
}

void act(const Roll& roll, Engine& engine, Random& random, Tick t) {
    const auto list = random.below(static_cast<std::uint32_t>(roll.lists.size()));
    const std::uint32_t what = random.below(10u);
    if (what < 4) engine.go(list, t);
    if (what == 4) engine.back(list, t);
    if (what == 5 && roll.lists[list].count > 0)
        engine.go_to(list, roll.lists[list].first + random.below(roll.lists[list].count), t);
    if (what == 6 && !roll.submasters.empty())
        engine.set_submaster(random.below(static_cast<std::uint32_t>(roll.submasters.size())),
                             static_cast<Level>(random.below(65536u)), t);
    if (what == 7) engine.timecode(t, random.below(Tick{150000}));
    if (what == 9) engine.set_panic(random.one_in(2), t);
    if (what == 8) random.one_in(2) ? engine.set_blackout(random.one_in(4), t) : engine.stop(list, 500, t);
}

// How many instants were compared; the first difference ends it.
std::size_t compare(std::uint64_t seed, std::string& difference) {
    const ExactRoll exact = random_roll(seed);
    const Roll& roll = exact.roll;
    Engine engine(roll);
    Random random(seed + 7);
    std::size_t compared = 0;
    Tick t = 0, busy_until = 0;
    for (int step = 0; step < 60; ++step) {
        while (random.one_in(3)) {
            act(roll, engine, random, t);
            extend(roll, engine, busy_until);
        }
        engine.advance(t);
        if (engine.overrun()) break;
        extend(roll, engine, busy_until);
        if (busy_until <= t) {
            Engine other(roll);
            other.restore(engine.standing());
            for (int i = 0; i < 8; ++i, t += 1 + random.below(40000u)) {
                engine.advance(t);
                other.advance(t);
                extend(roll, engine, busy_until);
                if (!equal(roll, engine, other)) difference = "at " + std::to_string(t);
                for (std::uint32_t l = 0; l < roll.lists.size(); ++l)
                    if (engine.current(l) != other.current(l) || engine.next_start(l) != other.next_start(l))
                        difference = "another cue at " + std::to_string(t);
                if (!difference.empty() || engine.overrun()) return compared;
                ++compared;
            }
        }
        t += random.below(60000u);
    }
    return compared;
}

}  // namespace

TEST_CASE("an engine that is restored plays on as the other one does", "[reference][engine]") {
    std::size_t compared = 0;
    for (std::uint64_t seed = 1; seed <= 300; ++seed) {
        std::string difference;
        compared += compare(seed, difference);
        INFO("seed " << seed);
        CHECK(difference == "");
    }
    CHECK(compared > 20000);
}

TEST_CASE("a fade goes on where it was", "[reference][engine]") {
    Roll roll = rig({Kind::intensity});
    add_cue(roll, {}, {{0, 10000}});
    add_cue(roll, {0, 4000, 4000, Curve::linear}, {{0, 50000}});
    Playing play(roll);
    play.engine.go(0);
    play.engine.go(second);
    play.engine.advance(2 * second);
    Engine other(play.roll);
    other.restore(play.engine.standing());
    other.advance(2 * second);
    CHECK(value(other, 0) == 20000);
    other.advance(3 * second);
    CHECK(value(other, 0) == 30000);
}

TEST_CASE("a fade goes on that was on its way at later GOs", "[reference][engine]") {
    Roll roll = rig({Kind::intensity, Kind::intensity, Kind::intensity});
    const auto fade = [](std::uint64_t takes) { return Timing{0, takes, takes, Curve::linear}; };
    add_cue(roll, fade(40000), {{0, 40000}});
    add_cue(roll, fade(10000), {{1, 50000}});
    add_cue(roll, fade(4000), {{1, 0}, {2, 10000}});
    Playing play(roll);
    play.engine.go(0);
    play.engine.go(second);
    play.engine.go(2 * second);
    play.engine.advance(3 * second);
    Engine other(play.roll);
    other.restore(play.engine.standing());
    for (Tick t = 3 * second; t < 50 * second; t += second / 3) {
        play.engine.advance(t);
        other.advance(t);
        for (const std::uint32_t p : {0u, 1u, 2u}) CHECK(value(other, p) == value(play.engine, p));
    }
}

TEST_CASE("a fade to nothing goes on where it was", "[reference][engine]") {
    Roll roll = rig({Kind::intensity});
    add_cue(roll, {}, {{0, 40000}});
    Playing play(roll);
    play.engine.go(0);
    play.engine.stop(0, 4000, second);
    play.engine.advance(2 * second);
    Engine other(play.roll);
    other.restore(play.engine.standing());
    other.advance(2 * second);
    CHECK(value(other, 0) == 30000);
    CHECK(other.standing() == play.engine.standing());
    other.advance(5 * second);
    CHECK(value(other, 0) == 0);
}

TEST_CASE("without the order of what was said, the latest GO owns what several lists state",
          "[reference][engine]") {
    Roll roll = rig({Kind::colour});
    add_cue(roll, {}, {{0, 10000}});
    add_list(roll, "side");
    add_cue(roll, {}, {{0, 20000}});
    Playing play(roll);
    play.engine.go(0, 0);
    play.engine.go(1, second);
    play.engine.advance(2 * second);
    Standing standing = play.engine.standing();
    std::fill(standing.claims.begin(), standing.claims.end(), std::uint64_t{0});  // as from another version
    Engine other(play.roll);
    other.restore(standing);
    other.advance(2 * second);
    CHECK(value(other, 0) == 20000);
}
