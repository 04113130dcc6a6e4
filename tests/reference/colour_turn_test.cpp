// Levels while the hue turns: no jump, and after a full turn the same. Source: the solution of a linear
// programme moves without a break with its data as long as it is the only one, and so does the nearest point
// of a convex set (both textbook facts, from memory); how fast the levels may move is this project's own
// bound.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <string>
#include <vector>

#include "compiler/colour/solve.hpp"
#include "compiler/colour/srgb.hpp"

using namespace tallow::colour;

namespace {

// The emitters of the solve check (colour_test.cpp), a white, and three that leave the pure hues out of
// reach.
const Emitter red{{.700, .299}, 45}, amber{{.570, .425}, 75}, lime{{.408, .542}, 190},
    green{{.160, .690}, 110}, cyan{{.070, .470}, 85}, blue{{.135, .060}, 35}, indigo{{.158, .018}, 18},
    white{{.3123, .3282}, 140};
const Emitter pale_red{{.58, .34}, 60}, pale_green{{.31, .54}, 130}, pale_blue{{.17, .11}, 50};

struct Set {
    std::string name;
    std::vector<Emitter> emitters;
};
const std::vector<Set> sets{
    {"three", {red, green, blue}},
    {"four", {red, green, blue, white}},
    {"five", {red, green, blue, amber, white}},
    {"seven", {red, amber, lime, green, cyan, blue, indigo}},
    {"three pale ones", {pale_red, pale_green, pale_blue}},
};

double furthest(const std::vector<double>& a, const std::vector<double>& b) {
    double most = 0;
    for (std::size_t k = 0; k < a.size(); ++k) most = std::max(most, std::fabs(a[k] - b[k]));
    return most;
}

// The most that a level moves in one of so many steps of a full turn.
double largest_move(const Set& set, double saturation, int steps) {
    const auto levels = [&](int step) {
        return solve(set.emitters, from_hue(360.0 * step / steps, saturation)).level;
    };
    double most = 0;
    std::vector<double> last = levels(0);
    REQUIRE(last.size() == set.emitters.size());
    for (int step = 1; step <= steps; ++step) {
        std::vector<double> now = levels(step);
        most = std::max(most, furthest(now, last));
        last = std::move(now);
    }
    return most;
}

}  // namespace

// Half of full for each degree: the fastest is amber of the seven near cyan, at .487. There red, amber and
// what balances them lie almost in one direction, so that they trade at a high rate. A break would be as
// large in small steps as in large ones: a 200th of a degree allows .0025 at most, less than one step of an
// 8-bit slot.
TEST_CASE("no level jumps while the hue turns", "[reference][colour][turn]") {
    constexpr double each_degree = .5;
    for (const Set& set : sets)
        for (const double saturation : {1.0, .8, .5, .1}) {
            INFO(set.name << ", saturation " << saturation);
            for (const int in_a_degree : {1, 200})
                CHECK(largest_move(set, saturation, 360 * in_a_degree) <= each_degree / in_a_degree);
        }
}

TEST_CASE("after a full turn the levels are the same", "[reference][colour][turn]") {
    for (const Set& set : sets)
        for (int tenths = 0; tenths < 3600; tenths += 7) {
            INFO(set.name << ", " << tenths / 10.0);
            const auto levels = [&](double turns) {
                return solve(set.emitters, from_hue(tenths / 10.0 + 360 * turns, .9)).level;
            };
            for (const double turns : {1.0, -1.0, 100.0}) CHECK(furthest(levels(turns), levels(0)) < 1e-9);
        }
}

// So that both of the above cover colours within reach and out of it, and the way across.
TEST_CASE("the turning hue is within reach and out of it", "[reference][colour][turn]") {
    for (const Set& set : sets) {
        INFO(set.name);
        int reached = 0, missed = 0;
        for (int degrees = 0; degrees < 360; ++degrees)
            for (const double saturation : {1.0, .8, .5, .1}) {
                const double away = solve(set.emitters, from_hue(degrees, saturation)).distance;
                ++(away < 1e-9 ? reached : missed);
            }
        CHECK(reached > 500);
        if (set.name != "seven") CHECK(missed > 40);
    }
}
