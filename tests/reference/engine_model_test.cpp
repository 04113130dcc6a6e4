// The engine against LANGUAGE.md evaluated in real numbers (support/model.hpp), over random rolls and random
// GO times.
#include <catch2/catch.hpp>
#include <cmath>
#include <cstdlib>

#include "runtime/engine/engine.hpp"
#include "runtime/roll/roll_io.hpp"
#include "tests/support/random.hpp"
#include "tests/support/random_roll.hpp"

using namespace tallow;
using namespace tallow::runtime;
using namespace tallow::test;

namespace {

// Empty, or what differs. An 8-bit slot may be off by 1, a 16-bit value by 16.
std::string difference(const ExactRoll& exact, const Engine& engine, const Model& model, Tick t) {
    const Parameters& rig = exact.roll.parameters;
    for (std::uint32_t p = 0; p < rig.size(); ++p) {
        if (rig.universe[p] == none) continue;
        const auto slots = engine.slots(rig.universe[p]);
        const int coarse = slots[rig.coarse[p] - 1];
        const bool wide = rig.fine[p] != 0;
        const long double v = model.shown(p, t);
        const int got = wide ? coarse * 256 + slots[rig.fine[p] - 1] : coarse;
        const int due = static_cast<int>(std::floor((wide ? 65535 : 255) * v + 0.5L));
        if (std::abs(got - due) > (wide ? 16 : 1))
            return "parameter " + std::to_string(p) + " at " + std::to_string(t) + ": " +
                   std::to_string(got) + ", due " + std::to_string(due);
    }
    return {};
}

// What an operator may do at a tick, done with both; false where one could and the other could not.
bool act(const Roll& roll, Engine& engine, Model& model, Random& random, Tick t) {
    const std::array<Level, 4> positions{0, full, 32768, 9999};
    const auto list = random.below(static_cast<std::uint32_t>(roll.lists.size()));
    const std::uint32_t what = random.below(16u);
    if (what < 7) return engine.go(list, t) == model.go(list, t);
    if (what < 8) return engine.back(list, t) == model.back(list, t);
    if (what < 10 && !roll.submasters.empty()) {
        const auto index = random.below(static_cast<std::uint32_t>(roll.submasters.size()));
        const Level position = random.one_of(positions);
        engine.set_submaster(index, position, t);
        model.set_submaster(index, position, t);
    } else if (what < 11) {
        const CueList& cues = roll.lists[list];
        if (cues.count == 0) return true;
        const std::uint32_t cue = cues.first + random.below(cues.count);
        engine.go_to(list, cue, t);
        model.go_to(list, cue, t);
    } else if (what < 12) {
        const std::uint64_t ms = random.below(3u) * 700;
        engine.stop(list, ms, t);
        model.stop(list, ms, t);
    } else if (what < 13) {
        const bool on = random.one_in(3);
        engine.set_blackout(on, t);
        model.set_blackout(on, t);
    } else if (what < 14) {
        const Tick code = random.below(Tick{150000});
        engine.timecode(t, code);
        model.timecode(t, code);
    } else if (what < 15) {
        const bool on = random.one_in(2);
        engine.set_panic(on, t);
        model.set_panic(on, t);
    } else if (random.one_in(3)) {
        engine.timecode_stop(t);
        model.timecode_stop(t);
    } else {
        const Level position = random.one_in(2) ? full : random.one_of(positions);
        engine.set_master(position, t);
        model.set_master(position, t);
    }
    return true;
}

struct Outcome {
    std::string difference;
    std::size_t instants = 0;  // at which both were compared
};

Outcome compare(std::uint64_t seed) {
    const ExactRoll exact = random_roll(seed);
    Engine engine(exact.roll);
    Model model(exact);
    Random random(seed + 1);
    Outcome outcome;
    Tick t = 0;
    // Steps of many lengths: within one fade, over several, and whole frames.
    const std::array<Tick, 6> steps{1, 137, 1000, 5000, 5000, 20000};
    for (int step = 0; step < 150 && !model.delicate(); ++step) {
        while (random.one_in(5))
            if (!act(exact.roll, engine, model, random, t)) return {"one of both did not start a cue", 0};
        engine.advance(t);
        model.advance(t);
        if (engine.overrun() || model.delicate()) break;
        outcome.difference = difference(exact, engine, model, t);
        for (std::uint32_t l = 0; l < exact.roll.lists.size() && outcome.difference.empty(); ++l)
            if (engine.current(l).value_or(none) != model.current(l))
                outcome.difference = "another cue is present in list " + std::to_string(l);
        if (!outcome.difference.empty()) return outcome;
        ++outcome.instants;
        t += random.one_of(steps) * (1 + random.below(3u));
    }
    return outcome;
}

}  // namespace

TEST_CASE("the engine agrees with the real-numbered semantics on random rolls", "[reference][engine]") {
    std::size_t instants = 0;
    for (std::uint64_t seed = 1; seed <= 1000; ++seed) {
        const Outcome outcome = compare(seed);
        INFO("seed " << seed);
        CHECK(outcome.difference == "");
        instants += outcome.instants;
    }
    CHECK(instants > 75000);  // most rolls are compared to their end
}

TEST_CASE("random rolls are valid", "[unit][roll]") {
    for (std::uint64_t seed = 1; seed <= 400; ++seed) CHECK(validate(random_roll(seed).roll).why() == "");
}
