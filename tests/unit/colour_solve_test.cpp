#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <limits>
#include <vector>

#include "compiler/colour/even_levels.hpp"
#include "compiler/colour/solve.hpp"
#include "compiler/colour/srgb.hpp"
#include "compiler/colour/temperature.hpp"
#include "compiler/colour/typical.hpp"
#include "tests/support/colour_mix.hpp"

using namespace tallow::colour;
using tallow::support::mix;

namespace {

const Emitter red{{.7, .3}, 45}, lime{{.4, .54}, 190}, green{{.16, .69}, 110}, blue{{.135, .06}, 35};
const Emitter warm{{.4578, .4101}, 115}, cool{{.3123, .3282}, 140};

void check_levels(const std::vector<double>& level, const std::vector<double>& expected) {
    REQUIRE(level.size() == expected.size());
    for (std::size_t k = 0; k < level.size(); ++k) CHECK(level[k] == Approx(expected[k]).margin(1e-9));
}

std::vector<double> levels(const std::vector<Emitter>& emitters, Chromaticity target) {
    return solve(emitters, target).level;
}

}  // namespace

TEST_CASE("no emitters give no mix", "[unit][colour]") {
    const Mix m = solve({}, {.3, .3});
    CHECK(m.level.empty());
    CHECK(m.luminance == 0);
    CHECK(m.distance == 1);
}

TEST_CASE("one emitter shows itself at full, whatever is asked", "[unit][colour]") {
    const std::vector<Emitter> one{red};
    CHECK(levels(one, red.xy) == std::vector<double>{1});
    const Mix m = solve(one, blue.xy);
    CHECK(m.level == std::vector<double>{1});
    CHECK(m.distance == Approx(distance_uv(red.xy, blue.xy)));
    CHECK(m.luminance == Approx(45));
}

TEST_CASE("two emitters mix along their line", "[unit][colour]") {
    const std::vector<Emitter> whites{warm, cool};
    const Chromaticity target = mix(whites, {.25, 1});
    check_levels(levels(whites, target), {.25, 1});
    check_levels(levels(whites, warm.xy), {1, 0});
    check_levels(levels(whites, cool.xy), {0, 1});
    // Off the line the nearest point of it: no other level does better.
    const Chromaticity off{.40, .41};
    const double distance = solve(whites, off).distance;
    for (int n = 0; n <= 1000; ++n) {
        const double l = n / 1000.0;
        CHECK(distance <= distance_uv(mix(whites, {l, 1}), off) + 1e-12);
        CHECK(distance <= distance_uv(mix(whites, {1, l}), off) + 1e-12);
    }
}

TEST_CASE("on an edge of the gamut only the emitters along it shine", "[unit][colour]") {
    const std::vector<Emitter> set{red, green, blue};
    check_levels(levels(set, mix(set, {.3, 0, 1})), {.3, 0, 1});
    check_levels(levels(set, green.xy), {0, 1, 0});
    check_levels(levels(set, {.08, .85}), {0, 1, 0});
}

TEST_CASE("an emitter within an edge is no corner of the gamut", "[unit][colour]") {
    // Equal emitters on one line: their u'v' are rounded off it, to either side.
    const std::vector<Emitter> set{{{.3, .3}, 36}, {{.5, .3}, 36}, {{0, .3}, 24}, {{.1, .5}, 60}};
    const Mix m = solve(set, {.3, .3});
    check_levels(m.level, {1, 1, 1, 0});
    CHECK(m.luminance == Approx(96));
}

TEST_CASE("an emitter that stands at the target is at full", "[unit][colour]") {
    const std::vector<Emitter> set{red, green, blue, cool};
    const Mix m = solve(set, cool.xy);
    CHECK(m.level[3] == 1);
    CHECK(m.luminance > cool.lumens);
    CHECK(m.distance < 1e-9);
}

TEST_CASE("equal emitters are at equal levels", "[unit][colour][ties]") {
    const std::vector<Emitter> set{warm, cool, warm};
    check_levels(levels(set, mix(set, {.3, 1, .3})), {.3, 1, .3});
    const std::vector<Emitter> five{red, green, blue, red, green};
    const std::vector<double> l = levels(five, {.3127, .329});
    CHECK(l[0] == Approx(l[3]).margin(1e-9));
    CHECK(l[1] == Approx(l[4]).margin(1e-9));
}

TEST_CASE("of emitters of one chromaticity the strongest comes first: the least total of levels",
          "[unit][colour][ties]") {
    const Emitter faint{warm.xy, warm.lumens / 4};
    const std::vector<Emitter> set{faint, cool, warm};
    check_levels(levels(set, mix(set, {0, 1, .6})), {0, 1, .6});
    check_levels(levels(set, mix(set, {.5, 1, 1})), {.5, 1, 1});
}

TEST_CASE("the strongest comes first at any strength", "[unit][colour][ties]") {
    for (int n = 1; n < 200; ++n) {
        INFO(n);
        const std::vector<Emitter> set{{warm.xy, 71}, {warm.xy, n / 3.0}, red, green, blue};
        const Chromaticity target = mix(set, {.6, 0, 1, 1, 1});
        const Mix m = solve(set, target);
        CHECK(m.distance < 1e-9);
        CHECK((m.level[0] == 1 || m.level[1] == 0));
    }
}

TEST_CASE("emitters may stand very close together", "[unit][colour]") {
    const std::vector<Emitter> small{{{.3, .3}, 50}, {{.30001, .3}, 60}, {{.3, .30001}, 70}};
    const Mix m = solve(small, mix(small, {.5, .5, .5}));
    CHECK(m.distance < 1e-12);
    CHECK(m.level[0] == Approx(1));
    CHECK(m.level[1] == Approx(1));
    CHECK(m.level[2] == Approx(1));
    // Two nearly one, both between off and full: the line through them parts the others.
    for (const double apart : {1e-6, 1e-7, 1e-8}) {
        INFO(apart);
        const std::vector<Emitter> set{
            {{.3, .3}, 50}, {{.3, .3 + apart}, 60}, {{.45, .3}, 40}, {{.2, .3}, 40}};
        const Mix near = solve(set, mix(set, {.3, .6, 1, 0}));
        CHECK(near.distance < 1e-9);
    }
}

TEST_CASE("a target a hair from an emitter is reached", "[unit][colour]") {
    // Many: where rounding puts it, off the line to either side, is a matter of luck.
    for (int n = 1; n <= 1000; ++n) {
        INFO(n);
        const std::vector<Emitter> two{{{.65, .05}, 80}, {{0, .55}, 160}};
        const Mix m = solve(two, mix(two, {1, n * 1e-12}));
        REQUIRE(m.distance < 1e-9);
        REQUIRE(m.luminance == Approx(80));
    }
}

TEST_CASE("an emitter twice at two strengths, all but one decided", "[unit][colour][ties]") {
    // Rounding turns the pulls of the two against each other by the last bit.
    const std::vector<Emitter> set{{{0, .1}, 12},  {{.2, .1}, 4},  {{0, .1}, 16},
                                   {{.3, .2}, 16}, {{.2, .3}, 24}, {{0, .4}, 32}};
    const Chromaticity target = mix(set, {0, 1, .5, 1, 1, 1});
    CHECK(solve(set, target).distance < 1e-9);
    check_levels(levels(set, target), {0, 1, .5, 1, 1, 1});
}

TEST_CASE("emitters on one straight line tie, and the least total of levels decides",
          "[unit][colour][ties]") {
    // Three on one line, of equal X + Y + Z: with blue at full any mix of them of one sum shows one colour.
    const std::vector<Emitter> set{{{.6, .4}, 40}, {{.4, .4}, 40}, {{.2, .4}, 40}, {{.4, .05}, 80}};
    const Chromaticity target = mix(set, {.2, .2, .2, 1});
    const Mix m = solve(set, target);
    check_levels(m.level, {.2, .2, .2, 1});
    CHECK(m.distance < 1e-9);
}

TEST_CASE("the order of the emitters does not matter", "[unit][colour]") {
    std::vector<Emitter> set{red, lime, green, blue, cool};
    const std::vector<double> before = levels(set, {.4, .4});
    std::reverse(set.begin(), set.end());
    std::vector<double> after = levels(set, {.4, .4});
    std::reverse(after.begin(), after.end());
    check_levels(after, before);
}

TEST_CASE("even levels are the least squares under their two equations", "[unit][colour][ties]") {
    const std::vector<double> place{0, 2, 1, .5};
    const auto squares = [](const std::vector<double>& l) {
        double sum = 0;
        for (const double v : l) sum += v * v;
        return sum;
    };
    for (const std::vector<double>& start : std::vector<std::vector<double>>{{.5, .5, .5, .5},
                                                                             {1, 0, 0, 1},
                                                                             {0, 1, 1, 0},
                                                                             {.1, .9, .2, .3},
                                                                             {1, .9, 1, 1},
                                                                             {0, 0, .05, .9},
                                                                             {.9, 1, 0, 0}}) {
        double total = 0, moment = 0;
        for (std::size_t k = 0; k < 4; ++k) total += start[k], moment += start[k] * place[k];
        const std::vector<double> even = even_levels(place, total, moment);
        for (std::size_t k = 0; k < 4; ++k) total -= even[k], moment -= even[k] * place[k];
        CHECK(std::fabs(total) < 1e-12);
        CHECK(std::fabs(moment) < 1e-12);
        CHECK(squares(even) <= squares(start) + 1e-12);
        // The equations leave the directions (1, 1, -2, 0) and (1, 0, 1, -2) free: nothing along them is
        // better.
        for (int i = -100; i <= 100; ++i)
            for (int j = -100; j <= 100; ++j) {
                const double p = i / 100.0, q = j / 100.0;
                const std::vector<double> other{even[0] + p + q, even[1] + p, even[2] - 2 * p + q,
                                                even[3] - 2 * q};
                const auto [low, high] = std::minmax_element(other.begin(), other.end());
                if (*low < 0 || *high > 1) continue;
                if (squares(other) < squares(even) - 1e-9) FAIL("a more even mix was found");
            }
    }
}

TEST_CASE("what is no chromaticity of light is not valid", "[unit][colour]") {
    CHECK(valid({.3, .3}));
    CHECK(valid({.7, .3}));
    CHECK(valid({0, 1}));
    CHECK_FALSE(valid({.3, 0}));
    CHECK_FALSE(valid({-.1, .3}));
    CHECK_FALSE(valid({.3, -.1}));
    CHECK_FALSE(valid({.7, .31}));
    constexpr double infinity = std::numeric_limits<double>::infinity();
    for (const double bad : {std::numeric_limits<double>::quiet_NaN(), infinity, -infinity}) {
        CHECK_FALSE(valid({bad, .3}));
        CHECK_FALSE(valid({.3, bad}));
    }
}

TEST_CASE("black has no chromaticity, greys have that of white", "[unit][colour]") {
    CHECK_FALSE(from_srgb(0, 0, 0));
    for (const std::uint8_t v : {std::uint8_t{1}, std::uint8_t{9}, std::uint8_t{128}})
        CHECK(distance_uv(*from_srgb(v, v, v), *from_srgb(255, 255, 255)) < 1e-12);
}

TEST_CASE("a hue is the sRGB colour at that angle", "[unit][colour]") {
    const auto near = [](Chromaticity a, Chromaticity b) { return distance_uv(a, b) < 1e-12; };
    CHECK(near(from_hue(0, 1), *from_srgb(255, 0, 0)));
    CHECK(near(from_hue(60, 1), *from_srgb(255, 255, 0)));
    CHECK(near(from_hue(120, 1), *from_srgb(0, 255, 0)));
    CHECK(near(from_hue(180, 1), *from_srgb(0, 255, 255)));
    CHECK(near(from_hue(240, 1), *from_srgb(0, 0, 255)));
    CHECK(near(from_hue(300, 1), *from_srgb(255, 0, 255)));
    CHECK(near(from_hue(12, 1), *from_srgb(255, 51, 0)));
    CHECK(near(from_hue(-348, 1), from_hue(12, 1)));
    CHECK(near(from_hue(732, 1), from_hue(12, 1)));
    CHECK(near(from_hue(77, 0), *from_srgb(255, 255, 255)));
    CHECK(near(from_hue(240, .6), *from_srgb(102, 102, 255)));
}

TEST_CASE("colour temperatures end at both ends of their range", "[unit][colour]") {
    CHECK(from_temperature(1000));
    CHECK(from_temperature(25000));
    CHECK_FALSE(from_temperature(999.999));
    CHECK_FALSE(from_temperature(25000.001));
    CHECK_FALSE(from_temperature(std::nan("")));
}

TEST_CASE("colour temperatures make one unbroken line", "[unit][colour]") {
    for (int k = 1000; k < 25000; ++k) {
        const double step = distance_uv(*from_temperature(k), *from_temperature(k + 1));
        REQUIRE(step > 0);
        REQUIRE(step < 3e-4);
    }
}

TEST_CASE("typical emitters go by the name of their slot", "[unit][colour]") {
    REQUIRE(typical("lime"));
    CHECK(typical("lime")->emitter.lumens == 185);
    CHECK(typical("white")->emitter.lumens == typical("cool-white")->emitter.lumens);
    REQUIRE(typical("uv"));
    CHECK_FALSE(typical("uv")->visible);
    CHECK_FALSE(typical("Lime"));
    CHECK_FALSE(typical(""));
    for (const char* name : {"red", "red-orange", "amber", "converted-amber", "lime", "green", "cyan", "blue",
                             "indigo", "white", "warm-white", "cool-white"}) {
        INFO(name);
        REQUIRE(typical(name));
        CHECK(typical(name)->visible);
        CHECK(valid(typical(name)->emitter.xy));
        CHECK(typical(name)->emitter.lumens > 0);
    }
}
