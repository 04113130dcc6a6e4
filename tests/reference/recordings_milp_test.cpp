// The number of submasters against scipy's integer programme, on small shows.
#include <catch2/catch.hpp>
#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <nlohmann/json.hpp>
#include <sstream>
#include <string>

#include "tests/support/planted.hpp"
#include "tests/support/scipy.hpp"

using namespace tallow;
using desk::Levels;
using desk::Percent;
namespace submasters = desk::submasters;

namespace {

constexpr Percent percent = 1'000'000;

struct Case {
    Levels wanted;
    Percent notch;
};

// Levels of any kind; of a few recordings at settings finer than the notch; or few and coarse ones.
Case random_case(test::Random& random) {
    const std::size_t cues = 2 + random.below(7u), channels = 2 + random.below(7u);
    static constexpr int notches[] = {25, 30, 34, 50};
    const Percent notch = random.one_of(notches) * percent;
    const auto kind = random.below(3u);
    if (kind == 0) return {test::planted(random, cues, channels, 2 + random.below(4u), percent), notch};
    Levels wanted(cues, channels);
    for (std::size_t i = 0; i < cues; ++i)
        for (std::size_t j = 0; j < channels; ++j)
            wanted.at(i, j) = (kind == 1           ? random.below(101)
                               : random.one_in(2u) ? 0
                                                   : 25 * random.below(5)) *
                              percent;
    return {wanted, notch};
}

// Levels in whole percents: the script computes in those.
Levels whole(Levels wanted) {
    for (std::size_t i = 0; i < wanted.rows(); ++i)
        for (std::size_t j = 0; j < wanted.columns(); ++j)
            wanted.at(i, j) = wanted.at(i, j) / percent * percent;
    return wanted;
}

std::string as_json(const Case& c) {
    nlohmann::json line{{"notch", c.notch / percent}, {"wanted", nlohmann::json::array()}};
    for (std::size_t i = 0; i < c.wanted.rows(); ++i) {
        nlohmann::json row = nlohmann::json::array();
        for (std::size_t j = 0; j < c.wanted.columns(); ++j) row.push_back(c.wanted.at(i, j) / percent);
        line["wanted"].push_back(row);
    }
    return line.dump();
}

}  // namespace

TEST_CASE("small shows take the fewest submasters that there can be", "[reference][recordings]") {
    test::Random random(7);
    std::vector<Case> cases;
    const std::string path = TALLOW_BUILD_DIR "/recordings_milp.jsonl";
    std::ofstream file(path);
    for (int n = 0; n < 60; ++n) {
        cases.push_back(random_case(random));
        cases.back().wanted = whole(cases.back().wanted);
        file << as_json(cases.back()) << '\n';
    }
    file.close();
    const std::string answer = test::ask_scipy("recordings_milp.py", path);
    if (answer.empty()) {
        WARN("skipped: python3-scipy is not installed for /usr/bin/python3");
        return;
    }
    std::istringstream lines(answer);
    for (const Case& c : cases) {
        std::size_t fewest = 0;
        REQUIRE(lines >> fewest);
        INFO(as_json(c));
        const auto plan = submasters::make_plan(test::task_for(c.wanted, c.notch));
        CHECK(plan.needed == fewest);
        CHECK(plan.apart.size() <= fewest);
        CHECK(test::worst_distance(c.wanted, plan, c.notch) >= 0);
        CHECK(test::worst_distance(c.wanted, plan, c.notch) <= c.notch / 2 * desk::all_of_it);
    }
}
