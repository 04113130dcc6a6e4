// The engine against LANGUAGE.md evaluated in real numbers (support/model.hpp), over random rolls and random
// GO times.
#include <catch2/catch.hpp>
#include <cmath>
#include <cstdlib>

#include "runtime/engine.hpp"
#include "runtime/roll_io.hpp"
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
        if (random.one_in(6)) {
            const bool engine_did =
                random.one_in(5) ? engine.back(t) == model.back(t) : engine.go(t) == model.go(t);
            if (!engine_did) return {"one of both did not start a cue", 0};
        }
        engine.advance(t);
        model.advance(t);
        if (engine.overrun() || model.delicate()) break;
        outcome.difference = difference(exact, engine, model, t);
        if (outcome.difference.empty() && engine.current().value_or(none) != model.current())
            outcome.difference = "another cue is present";
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
