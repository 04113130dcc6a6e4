// Colour against values from outside.
#include <catch2/catch.hpp>
#include <cmath>
#include <cstdint>
#include <vector>

#include "compiler/colour/solve.hpp"
#include "compiler/colour/spectral.hpp"
#include "compiler/colour/srgb.hpp"
#include "compiler/colour/temperature.hpp"

using namespace tallow::colour;

namespace {

struct Known {
    double kelvin;
    Chromaticity xy;
};

void check_near(Chromaticity found, Chromaticity known, double margin) {
    CHECK(found.x == Approx(known.x).epsilon(0).margin(margin));
    CHECK(found.y == Approx(known.y).epsilon(0).margin(margin));
}

}  // namespace

// Source: computed with a colour library (scientific Python) from the CIE's published data, five digits.
TEST_CASE("the Planckian locus has its known places", "[reference][colour]") {
    for (const auto& [kelvin, xy] : std::vector<Known>{{2000, {.52668, .41330}},
                                                       {2700, {.45986, .41060}},
                                                       {3000, {.43693, .40408}},
                                                       {3200, {.42336, .39895}},
                                                       {4000, {.38044, .37675}},
                                                       {5000, {.34510, .35161}},
                                                       {5600, {.33020, .33908}},
                                                       {6500, {.31353, .32363}},
                                                       {10000, {.28063, .28829}}}) {
        INFO(kelvin);
        check_near(planckian_locus(kelvin), xy, 1e-5);
        if (kelvin <= 4000) check_near(*from_temperature(kelvin), xy, 1e-5);
    }
}

// Source: CIE 15, daylight locus.
TEST_CASE("the daylight locus has its known places", "[reference][colour]") {
    for (const auto& [kelvin, xy] : std::vector<Known>{{5000, {.34574, .35867}},
                                                       {5600, {.33016, .34555}},
                                                       {6500, {.31278, .32918}},
                                                       {10000, {.27880, .29197}}}) {
        INFO(kelvin);
        check_near(daylight_locus(kelvin), xy, 6e-6);
        check_near(*from_temperature(kelvin), xy, 6e-6);
    }
}

// Source: CIE 15, illuminants. They are older than today's c2: A is a black body of 2848 K at c2 = 1.4350e-2,
// D50, D55 and D65 are nominal at c2 = 1.4380e-2. The D illuminants' own spectra stand up to 1.1e-4 off the
// locus.
TEST_CASE("standard illuminants are found at their temperatures", "[reference][colour]") {
    check_near(planckian_locus(2848 * 1.4388 / 1.4350), {.44758, .40745}, 2e-5);
    check_near(daylight_locus(5000 * 1.4388 / 1.4380), {.3457, .3585}, 1.1e-4);
    check_near(daylight_locus(5500 * 1.4388 / 1.4380), {.33243, .34744}, 1.1e-4);
    check_near(daylight_locus(6500 * 1.4388 / 1.4380), {.31272, .32903}, 1.1e-4);
}

// Source: CIE 224, second-hand: the mix is half and half at 4500 K, at equal luminance.
TEST_CASE("between 4000 K and 5000 K both loci mix", "[reference][colour]") {
    const Chromaticity p = planckian_locus(4500), d = daylight_locus(4500);
    const std::vector<Emitter> halves{{p, 1}, {d, 1}};
    const Mix m = solve(halves, *from_temperature(4500));
    CHECK(m.distance < 1e-9);
    CHECK(m.level[0] == Approx(1).margin(1e-6));
    CHECK(m.level[1] == Approx(1).margin(1e-6));
    CHECK(distance_uv(*from_temperature(4000.001), planckian_locus(4000)) < 1e-6);
    CHECK(distance_uv(*from_temperature(4999.999), daylight_locus(5000)) < 1e-6);
}

// Source: IEC 61966-2-1, primaries and white.
TEST_CASE("sRGB's primaries and white are the standard's", "[reference][colour]") {
    check_near(*from_srgb(255, 0, 0), {.64, .33}, 1e-9);
    check_near(*from_srgb(0, 255, 0), {.30, .60}, 1e-9);
    check_near(*from_srgb(0, 0, 255), {.15, .06}, 1e-9);
    check_near(*from_srgb(255, 255, 255), {.3127, .3290}, 1e-9);
}

// Source: IEC 61966-2-1, decoding: c/12.92 up to .04045, else ((c + .055)/1.055)^2.4. X, Y and Z of two
// primaries add up, each over its own y, to the mix's sum.
TEST_CASE("every code of sRGB decodes by the standard's formula", "[reference][colour]") {
    constexpr double red_y = .2126390059, green_y = .7151686788;  // of white's luminance, from the primaries
    for (int code = 1; code < 256; ++code) {
        INFO(code);
        const double c = code / 255.0;
        const double light = c <= .04045 ? c / 12.92 : std::pow((c + .055) / 1.055, 2.4);
        const double red = red_y / .33, green = light * green_y / .60;  // X + Y + Z
        check_near(*from_srgb(255, static_cast<std::uint8_t>(code), 0),
                   {(red * .64 + green * .30) / (red + green), (red * .33 + green * .60) / (red + green)},
                   1e-9);
    }
}

// Source: XYZ .598691 .585239 .081431 and u'v' of #ffbf00, computed with a colour library.
TEST_CASE("#ffbf00 has its known chromaticity", "[reference][colour]") {
    constexpr double sum = .598691 + .585239 + .081431;
    check_near(*from_srgb(0xff, 0xbf, 0x00), {.598691 / sum, .585239 / sum}, 1e-6);
    const Uv uv = to_uv(*from_srgb(0xff, 0xbf, 0x00));
    CHECK(uv.u == Approx(.24890).epsilon(0).margin(6e-6));
    CHECK(uv.v == Approx(.54743).epsilon(0).margin(6e-6));
}

// Source: CIE 15: equal energy is at x = y = 1/3, u' = 4/19, v' = 9/19.
// CIE 15, four places; from memory, not re-read.
TEST_CASE("light of one wavelength has its known places", "[reference][colour]") {
    const struct {
        int nm;
        double x, y;
    } known[] = {{380, .1741, .0050}, {460, .1440, .0297}, {480, .0913, .1327}, {500, .0082, .5384},
                 {520, .0743, .8338}, {550, .3016, .6923}, {580, .5125, .4866}, {700, .7347, .2653}};
    for (const auto& [nm, x, y] : known) {
        INFO(nm);
        CHECK(spectral(nm).x == Approx(x).margin(1e-4));
        CHECK(spectral(nm).y == Approx(y).margin(1e-4));
    }
}

// Tried along the whole outline in small steps.
TEST_CASE("beyond the spectral locus the nearest light is taken", "[reference][colour]") {
    std::vector<Uv> outline;
    for (int nm = 380; nm <= 700; nm += 5) outline.push_back(to_uv(spectral(nm)));
    const auto least = [&](Chromaticity c) {
        double best = 9;
        for (std::size_t i = 0; i < outline.size(); ++i)
            for (int step = 0; step < 1000; ++step) {
                const Uv a = outline[i], b = outline[(i + 1) % outline.size()];
                const double way = step / 1000.0;
                best =
                    std::min(best, distance_uv(to_uv(c), {a.u + way * (b.u - a.u), a.v + way * (b.v - a.v)}));
            }
        return best;
    };
    for (const Chromaticity c :
         {Chromaticity{0, .5}, {0, 1}, {.3, .02}, {.6, .4}, {.75, .24}, {.05, .9}, {.999, .001}}) {
        INFO(c.x << ' ' << c.y);
        const Chromaticity nearest = nearest_light(c);
        CHECK(distance_uv(nearest, c) == Approx(least(c)).margin(3e-4));
        CHECK(distance_uv(nearest, c) > 1e-4);
        CHECK(distance_uv(nearest_light(nearest), nearest) < 1e-9);
    }
    for (const Chromaticity c : {Chromaticity{.3127, .329}, {.15, .06}, {.1, .7}, {.45, .14}}) {
        CHECK(nearest_light(c).x == c.x);
        CHECK(nearest_light(c).y == c.y);
    }
}

TEST_CASE("u'v' of equal energy, and back", "[reference][colour]") {
    const Uv uv = to_uv({1.0 / 3, 1.0 / 3});
    CHECK(uv.u == Approx(4.0 / 19).epsilon(1e-14));
    CHECK(uv.v == Approx(9.0 / 19).epsilon(1e-14));
    check_near(to_xy(to_uv({.135, .06})), {.135, .06}, 1e-14);
}

// Source: scipy.optimize.linprog over the same emitters. The first target is the white of IEC 61966-2-1.
TEST_CASE("the solution of highest luminance is the linear programme's", "[reference][colour]") {
    const std::vector<Emitter> emitters{{{.700, .299}, 45},  {{.570, .425}, 75}, {{.408, .542}, 190},
                                        {{.160, .690}, 110}, {{.070, .470}, 85}, {{.135, .060}, 35},
                                        {{.158, .018}, 18}};
    struct Solution {
        Chromaticity target;
        double luminance;
        std::vector<double> level;
    };
    for (const auto& [target, luminance, level] :
         std::vector<Solution>{{{.3127, .3290}, 490.747, {1, 1, 1, 1, .7213, 0, .52424}},
                               {{.42336, .39895}, 363.926, {1, 1, 1, .46394, 0, 0, .16072}},
                               {{.33020, .33908}, 463.843, {1, 1, 1, 1, .41941, 0, .45515}},
                               {{.55, .43}, 219.057, {.99556, 1, .52240, 0, 0, 0, 0}},
                               {{.27, .18}, 375.205, {1, 1, 1, .22689, 0, .63561, 1}},
                               {{.16, .05}, 83.043, {.24849, 0, 0, 0, .22189, 1, 1}}}) {
        INFO(target.x << " " << target.y);
        const Mix m = solve(emitters, target);
        CHECK(m.luminance == Approx(luminance).epsilon(0).margin(1e-3));
        check_near(m.xy, target, 1e-9);
        CHECK(m.distance < 1e-9);
        REQUIRE(m.level.size() == 7);
        for (std::size_t k = 0; k < 7; ++k) CHECK(m.level[k] == Approx(level[k]).epsilon(0).margin(1e-4));
    }
}
