// Plans of submasters against known answers: the check of a published kind of factorisation, and cues that a
// known number of recordings gives.
#include <catch2/catch.hpp>
#include <set>

#include "tests/support/planted.hpp"

using namespace tallow;
using desk::Levels;
using desk::Percent;
namespace submasters = desk::submasters;

namespace {

constexpr Percent percent = 1'000'000;

Levels levels(const std::vector<std::vector<Percent>>& rows) {
    Levels all(rows.size(), rows.at(0).size());
    for (std::size_t i = 0; i < rows.size(); ++i)
        for (std::size_t j = 0; j < rows[i].size(); ++j) all.at(i, j) = rows[i][j] * percent;
    return all;
}

// The matrix is the max-times product of three recordings and five rows of positions. Its linear rank is 5.
const Levels factored = levels({{100, 80, 0, 0, 60, 0},
                                {50, 40, 100, 50, 60, 0},
                                {0, 40, 50, 25, 30, 100},
                                {100, 80, 100, 50, 60, 50},
                                {20, 40, 80, 40, 48, 100}});

}  // namespace

TEST_CASE("the factorisation check finds three recordings, proven by three cells",
          "[reference][recordings]") {
    for (const Percent notch : {percent, 5 * percent, 10 * percent}) {
        const auto plan = submasters::make_plan(test::task_for(factored, notch));
        CHECK(plan.needed == 3);
        CHECK(plan.recordings.rows() == 3);
        CHECK(plan.apart.size() == 3);
        CHECK(test::all_apart(factored, plan.apart, notch));
        const auto worst = test::worst_distance(factored, plan, notch);
        CHECK(worst >= 0);
        CHECK(worst <= notch / 2 * desk::all_of_it);
    }
}

TEST_CASE("cues that a few recordings give are given by as few", "[reference][recordings]") {
    const Percent notch = 5 * percent;
    test::Random random(20);
    std::size_t as_few = 0, proven = 0;
    for (int n = 0; n < 200; ++n) {
        const std::size_t recordings = 4 + random.below(7u), cues = 8 + random.below(33u),
                          channels = 8 + random.below(41u);
        const Levels wanted = test::planted(random, cues, channels, recordings, notch, random.below(80u));
        const auto plan = submasters::make_plan(test::task_for(wanted, notch));
        INFO("case " << n << ": " << cues << " x " << channels << " of " << recordings);
        as_few += plan.recordings.rows() <= recordings;
        proven += plan.recordings.rows() == plan.apart.size();
        CHECK(plan.kept());
        const auto worst = test::worst_distance(wanted, plan, notch);
        CHECK(worst >= 0);
        CHECK(worst <= notch / 2 * desk::all_of_it);
        CHECK(test::all_apart(wanted, plan.apart, notch));
        CHECK(plan.apart.size() <= plan.recordings.rows());
        CHECK(plan.needed == plan.recordings.rows());
    }
    CHECK(as_few >= 180);
    CHECK(proven >= 150);
}

TEST_CASE("coarse settings, where the first plan is often not the best, take as few",
          "[reference][recordings]") {
    const Percent notch = 25 * percent;
    test::Random random(4);
    std::size_t as_few = 0;
    for (int n = 0; n < 20; ++n) {
        const std::size_t recordings = 6 + random.below(5u);
        const Levels wanted = test::planted(random, 24, 24, recordings, notch, 0);
        const auto plan = submasters::make_plan(test::task_for(wanted, notch));
        as_few += plan.recordings.rows() <= recordings;
        CHECK(plan.kept());
        CHECK(test::all_apart(wanted, plan.apart, notch));
    }
    CHECK(as_few >= 18);
}
