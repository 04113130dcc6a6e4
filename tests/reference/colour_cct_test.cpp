// Correlated colour temperatures against published ones, a published approximation, and their definition.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <vector>

#include "compiler/colour/cct.hpp"
#include "compiler/colour/planck.hpp"
#include "compiler/colour/temperature.hpp"
#include "tests/support/random.hpp"

using namespace tallow::colour;

namespace {

// CIE 1960, by its own definition in x and y (CIE 15): u = 4x/(−2x + 12y + 3), v = 6y/(−2x + 12y + 3).
struct Point {
    double u, v;
};
Point cie1960(Chromaticity c) {
    const double d = -2 * c.x + 12 * c.y + 3;
    return {4 * c.x / d, 6 * c.y / d};
}
Chromaticity from_cie1960(Point p) {
    const double d = 2 * p.u - 8 * p.v + 4;
    return {3 * p.u / d, 2 * p.v / d};
}
double distance(Point a, Point b) {
    return std::hypot(a.u - b.u, a.v - b.v);
}

// So far off the locus, square to it, above it for a positive distance.
Chromaticity beside_locus(double kelvin, double away) {
    const Point at = cie1960(planckian_locus(kelvin));
    const Point warmer = cie1960(planckian_locus(kelvin * .9999)),
                cooler = cie1960(planckian_locus(kelvin * 1.0001));
    const double u = warmer.u - cooler.u, v = warmer.v - cooler.v, length = std::hypot(u, v);
    return from_cie1960({at.u - away * v / length, at.v + away * u / length});
}

Chromaticity of_black_body(double kelvin) {
    const Tristimulus t = black_body(kelvin).light;
    return {t.x / (t.x + t.y + t.z), t.y / (t.x + t.y + t.z)};
}

}  // namespace

// Source: CIE 15. Illuminant A is by definition a black body of 2848 K at c2 = 1.4350e-2, which is 2855.5 K
// at today's 1.4388e-2 and is named 2856 K; D50, D55 and D65 are daylight of 5000, 5500 and 6500 K at c2 =
// 1.4380e-2. A shift of one in the last digit of xy moves A by .2 K and the others by up to 1 K; daylight
// phases stand within 1 K of their own name. Their Duv, and both values of E (5455 K, -.0044): common
// knowledge of colorimetry, from memory, not re-read.
TEST_CASE("standard illuminants have their colour temperatures", "[reference][colour][cct]") {
    struct Illuminant {
        Chromaticity xy;
        double kelvin, within, duv;
    };
    for (const auto& [xy, kelvin, within, duv] :
         std::vector<Illuminant>{{{.44758, .40745}, 2848 * 1.4388 / 1.4350, .2, 0},
                                 {{.3457, .3585}, 5000 * 1.4388 / 1.4380, 3, .0032},
                                 {{.33243, .34744}, 5500 * 1.4388 / 1.4380, 1, .0033},
                                 {{.31272, .32903}, 6500 * 1.4388 / 1.4380, 1.5, .0032},
                                 {{1.0 / 3, 1.0 / 3}, 5455, 1, -.0044}}) {
        INFO(xy.x << " " << xy.y);
        const auto found = correlated_temperature(xy);
        REQUIRE(found);
        CHECK(found->kelvin == Approx(kelvin).epsilon(0).margin(within));
        CHECK(found->duv == Approx(duv).epsilon(0).margin(6e-5));
    }
}

// Source: the definition, CIE 15.
TEST_CASE("a black body has its own temperature", "[reference][colour][cct]") {
    for (double kelvin = 1000; kelvin <= 25000; kelvin += 12.5) {
        INFO(kelvin);
        const auto found = correlated_temperature(planckian_locus(kelvin));
        REQUIRE(found);
        REQUIRE(found->kelvin == Approx(kelvin).epsilon(0).margin(1e-5));
        REQUIRE(std::fabs(found->duv) < 1e-12);
    }
}

// Source: the definition, CIE 15: no other place on the locus is as near. Every place is tried.
TEST_CASE("the temperature found is that of the nearest black body", "[reference][colour][cct]") {
    std::vector<Point> locus;
    for (double mired = 40; mired <= 1000; mired += .25)
        locus.push_back(cie1960(planckian_locus(1e6 / mired)));
    tallow::test::Random random(7);
    const auto share = [&] { return static_cast<double>(random.below(1'000'000)) / 1e6; };
    std::size_t found_some = 0, found_none = 0;
    for (int n = 0; n < 3000; ++n) {
        const Chromaticity xy{.2 + .45 * share(), .15 + .35 * share()};
        INFO(xy.x << " " << xy.y);
        const Point target = cie1960(xy);
        const auto nearest = std::min_element(locus.begin(), locus.end(), [&](Point a, Point b) {
            return distance(a, target) < distance(b, target);
        });
        const double away = distance(*nearest, target);
        const auto found = correlated_temperature(xy);
        if (!found) {
            REQUIRE((away > .05 || nearest == locus.begin() || nearest == locus.end() - 1));
            ++found_none;
            continue;
        }
        ++found_some;
        const double claimed = distance(cie1960(planckian_locus(found->kelvin)), target);
        REQUIRE(claimed <= away + 1e-12);
        REQUIRE(std::fabs(found->duv) == Approx(claimed).epsilon(0).margin(1e-12));
        REQUIRE(std::fabs(found->duv) <= .05);
        if (claimed > 1e-4) REQUIRE((found->duv > 0) == (target.v > nearest->v));
    }
    CHECK(found_some > 500);
    CHECK(found_none > 500);
}

// Source: CIE 15: none beyond .05; the ends are this project's own.
TEST_CASE("far off the locus and beyond its ends there is no colour temperature",
          "[reference][colour][cct]") {
    for (const double kelvin : {2000.0, 3200.0, 5000.0, 9000.0}) {
        INFO(kelvin);
        for (const double away : {.0499, .02, -.02, -.0499}) {
            INFO(away);
            const auto found = correlated_temperature(beside_locus(kelvin, away));
            REQUIRE(found);
            CHECK(found->kelvin == Approx(kelvin).epsilon(1e-4));
            CHECK(found->duv == Approx(away).epsilon(0).margin(1e-8));
        }
        CHECK_FALSE(correlated_temperature(beside_locus(kelvin, .0501)));
        CHECK_FALSE(correlated_temperature(beside_locus(kelvin, -.0501)));
    }
    for (const double kelvin : {950.0, 999.9, 25002.0, 40000.0, 100000.0})
        CHECK_FALSE(correlated_temperature(of_black_body(kelvin)));
    for (const Chromaticity xy : std::vector<Chromaticity>{{.64, .33}, {.30, .60}, {.15, .06}, {.7, .3}})
        CHECK_FALSE(correlated_temperature(xy));
}

// Source: McCamy's cubic, from memory, not re-read; its two values computed from it elsewhere. It was fitted
// to stay within 2 K of the daylight and Planckian loci at 2856..6500 K.
TEST_CASE("McCamy's approximation agrees", "[reference][colour][cct]") {
    const auto mccamy = [](Chromaticity c) {
        const double n = (c.x - .3320) / (c.y - .1858);
        return ((-449 * n + 3525) * n - 6823.3) * n + 5520.33;
    };
    const Chromaticity a{.44758, .40745}, d65{.31272, .32903};
    CHECK(mccamy(a) == Approx(2857.1).epsilon(0).margin(.06));
    CHECK(mccamy(d65) == Approx(6503.8).epsilon(0).margin(.06));
    CHECK(correlated_temperature(a)->kelvin == Approx(mccamy(a)).epsilon(0).margin(2));
    CHECK(correlated_temperature(d65)->kelvin == Approx(mccamy(d65)).epsilon(0).margin(2));
}

// Source: Kim's cubic splines for the Planckian locus, from memory, not re-read; how near they come, computed
// elsewhere: 5.5e-4 at 2700 K, 2.2e-4 well above it.
TEST_CASE("Kim's approximation of the Planckian locus agrees", "[reference][colour][cct]") {
    const auto kim = [](double kelvin) {
        const double t = 1000 / kelvin;
        const double x = kelvin <= 4000 ? ((-.2661239 * t - .2343589) * t + .8776956) * t + .179910
                                        : ((-3.0258469 * t + 2.1070379) * t + .2226347) * t + .240390;
        const double y = kelvin <= 2222   ? ((-1.1063814 * x - 1.34811020) * x + 2.18555832) * x - .20219683
                         : kelvin <= 4000 ? ((-.9549476 * x - 1.37418593) * x + 2.09137015) * x - .16748867
                                          : ((3.0817580 * x - 5.87338670) * x + 3.75112997) * x - .37001483;
        return Chromaticity{x, y};
    };
    const auto off = [&](double kelvin) {
        const Chromaticity ours = planckian_locus(kelvin), known = kim(kelvin);
        return std::max(std::fabs(ours.x - known.x), std::fabs(ours.y - known.y));
    };
    CHECK(off(2700) == Approx(5.5e-4).epsilon(0).margin(.05e-4));
    for (double kelvin = 1700; kelvin <= 25000; kelvin += 50) {
        INFO(kelvin);
        CHECK(off(kelvin) < (kelvin < 3200 ? 6e-4 : 2.2e-4));
    }
}
