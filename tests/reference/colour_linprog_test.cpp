// The solver against scipy.optimize.linprog and nnls (Debian's python3-scipy), on random emitters and
// targets, and on sets that no fixture has.
#include <algorithm>
#include <catch2/catch.hpp>
#include <chrono>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <nlohmann/json.hpp>
#include <optional>
#include <random>
#include <span>
#include <sstream>
#include <string>
#include <vector>

#include "compiler/colour/solve.hpp"
#include "tests/support/colour_mix.hpp"
#include "tests/support/scipy.hpp"

using namespace tallow::colour;
using tallow::support::mix;

namespace {

struct Case {
    std::vector<Emitter> emitters;
    Chromaticity target;
    bool reachable;
};

class Random {
  public:
    double between(double low, double high) {
        return low + (high - low) * static_cast<double>(bits_() >> 11) / 9007199254740992.0;
    }
    std::size_t below(std::size_t n) { return bits_() % n; }

  private:
    std::mt19937_64 bits_{20};
};

// On a coarse grid many emitters stand on one line, with simple ratios between their strengths: ties.
Emitter grid_emitter(Random& random) {
    const std::size_t y = 1 + random.below(16), x = random.below(21 - y);
    const auto of_twentieths = [](std::size_t n) { return static_cast<double>(n) / 20; };
    return {{of_twentieths(x), of_twentieths(y)}, 800 * of_twentieths(y * (1 + random.below(3)))};
}

// Some sets are on a grid; others have an emitter twice, once more at another strength or a little aside, or
// three on one line.
std::vector<Emitter> random_emitters(Random& random) {
    std::vector<Emitter> emitters(3 + random.below(6));
    for (Emitter& e : emitters) {
        const double y = random.between(.02, .8);
        e = {{random.between(.02, .98 - y), y}, random.between(10, 200)};
    }
    const std::size_t kind = random.below(8);
    if (kind > 5)
        for (Emitter& e : emitters) e = grid_emitter(random);
    if (kind == 1) emitters[2] = emitters[0];
    if (kind == 2) emitters[2] = {emitters[1].xy, emitters[1].lumens / 3};
    if (kind == 3) emitters[2] = {{emitters[1].xy.x + 1e-4, emitters[1].xy.y + 1e-4}, emitters[1].lumens};
    if (kind == 4) emitters[2].xy = mix(std::span(emitters).first(2), {.5, .5});
    return emitters;
}

// Most targets are mixes of all emitters, some of two, some stand on an emitter, some anywhere.
Case random_case(Random& random) {
    Case c{random_emitters(random), {}, true};
    std::vector<double> level(c.emitters.size());
    const std::size_t kind = random.below(8);
    if (kind < 5)
        for (double& l : level) l = random.between(0, 1);
    else if (kind == 5)
        level[0] = random.between(0, 1), level[1] = 1;
    else
        level[0] = 1;
    c.target = mix(c.emitters, level);
    if (kind == 7) c.target = {random.between(.05, .6), random.between(.05, .35)}, c.reachable = false;
    return c;
}

std::string as_json(const Case& c) {
    nlohmann::json line{{"emitters", nlohmann::json::array()}, {"target", {c.target.x, c.target.y}}};
    for (const auto& [xy, lumens] : c.emitters) line["emitters"].push_back({xy.x, xy.y, lumens});
    return line.dump();
}

void compare(const Case& c, double away, double luminance, double least_total) {
    INFO(as_json(c));
    const Mix m = solve(c.emitters, c.target);
    REQUIRE(m.level.size() == c.emitters.size());
    double most = 0, total = 0;
    for (const double l : m.level) {
        total += l;
        CHECK(l >= 0);
        CHECK(l <= 1);
        most = std::max(most, l);
    }
    CHECK(most == Approx(1).epsilon(1e-12));
    const Chromaticity shown = mix(c.emitters, m.level);
    CHECK(distance_uv(shown, m.xy) < 1e-12);
    CHECK(m.distance == Approx(away).epsilon(0).margin(1e-6));
    CHECK(m.luminance == Approx(luminance).epsilon(1e-6));
    CHECK(total == Approx(least_total).epsilon(1e-6));
    if (!c.reachable && away > 1e-7) return;
    CHECK(shown.x == Approx(c.target.x).epsilon(0).margin(1e-9));
    CHECK(shown.y == Approx(c.target.y).epsilon(0).margin(1e-9));
    CHECK(m.distance < 1e-9);
}

// Solves all of them by both. How many targets were out of reach; none where scipy is not installed.
std::optional<std::size_t> compare_all(const std::vector<Case>& cases, const std::string& name) {
    const std::string path = TALLOW_BUILD_DIR "/" + name + ".jsonl";
    std::ofstream file(path);
    for (const Case& c : cases) file << as_json(c) << '\n';
    file.close();
    const std::string answer = tallow::test::ask_scipy("colour_linprog.py", path);
    if (answer.empty()) {
        WARN("skipped: python3-scipy is not installed for /usr/bin/python3");
        return std::nullopt;
    }
    std::istringstream lines(answer);
    std::size_t out_of_reach = 0;
    for (const Case& c : cases) {
        double away = -1, luminance = -1, total = -1;
        REQUIRE(lines >> away >> luminance >> total);
        compare(c, away, luminance, total);
        out_of_reach += away > 1e-3;
    }
    return out_of_reach;
}

// A mix of these at random levels, or a colour that they may not reach.
Case anywhere(std::vector<Emitter> emitters, bool reachable, Random& random) {
    std::vector<double> level(emitters.size());
    for (double& l : level) l = random.between(0, 1);
    const Chromaticity target =
        reachable ? mix(emitters, level) : Chromaticity{random.between(.05, .6), random.between(.05, .35)};
    return {std::move(emitters), target, reachable};
}

}  // namespace

TEST_CASE("random emitters and targets agree with scipy", "[reference][colour][scipy]") {
    Random random;
    std::vector<Case> cases;
    for (int n = 0; n < 2000; ++n) cases.push_back(random_case(random));
    if (const auto out_of_reach = compare_all(cases, "colour_linprog")) CHECK(*out_of_reach > 60);
}

TEST_CASE("sets of emitters that no fixture has agree with scipy", "[reference][colour][scipy]") {
    Random random;
    std::vector<Case> cases;
    for (const bool reachable : {true, false})
        for (int n = 0; n < 20; ++n) {
            const std::vector<Emitter> some = random_emitters(random);
            const std::vector<Emitter> two(some.begin(), some.begin() + 2);
            std::vector<Emitter> one_line = two, copies;
            for (std::size_t k = 2; k < some.size(); ++k)
                one_line.push_back({mix(two, {random.between(0, 1), random.between(.1, 1)}), some[k].lumens});
            for (int copy = 0; copy < 5; ++copy) copies.insert(copies.end(), some.begin(), some.end());
            const std::vector<Emitter> one_colour(7, some[0]);
            for (const auto& set : {two, one_line, copies, one_colour})
                cases.push_back(anywhere(set, reachable, random));
        }
    for (const bool reachable : {true, false}) {
        std::vector<Emitter> thousand;
        while (thousand.size() < 1000)
            for (const Emitter& e : random_emitters(random)) thousand.push_back(e);
        thousand.resize(1000);
        cases.push_back(anywhere(thousand, reachable, random));
    }
    if (const auto out_of_reach = compare_all(cases, "colour_linprog_sets")) CHECK(*out_of_reach > 40);
}

// Source: none, the rule of solve.hpp: copies tie, and the least total of squares shares out alike.
TEST_CASE("a thousand emitters are solved soon, and copies alike", "[reference][colour]") {
    const std::vector<Emitter> four{
        {{.7, .29}, 45}, {{.16, .69}, 110}, {{.135, .06}, 35}, {{.3123, .3282}, 140}};
    std::vector<Emitter> copies;
    while (copies.size() < 1000) copies.insert(copies.end(), four.begin(), four.end());
    // Within the gamut; at an emitter; near the edge, with two at their limits; out of reach.
    for (const Chromaticity target :
         std::vector<Chromaticity>{{.4, .38}, four[3].xy, mix(four, {.5, 1, .001, 0}), {.5, .48}}) {
        INFO(target.x << " " << target.y);
        const Mix one = solve(four, target);
        const auto start = std::chrono::steady_clock::now();
        const Mix m = solve(copies, target);
        const std::chrono::duration<double> spent = std::chrono::steady_clock::now() - start;
        CHECK(spent.count() < 30);  // about a second; ten times slower under sanitizers
        CHECK(m.luminance == Approx(250 * one.luminance).epsilon(1e-9));
        CHECK(m.distance == Approx(one.distance).epsilon(0).margin(1e-9));
        REQUIRE(m.level.size() == 1000);
        double unlike = 0;
        for (std::size_t k = 0; k < 1000; ++k)
            unlike = std::max(unlike, std::fabs(m.level[k] - one.level[k % 4]));
        CHECK(unlike < 1e-9);
    }
}
