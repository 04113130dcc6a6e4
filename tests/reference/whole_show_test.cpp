// A show with three cue lists, a chase, submasters, timecode and waves in metres, rendered from its text to
// frames; every frame is computed apart, from the formulas of grammar/LANGUAGE.md in real numbers.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

#include "compiler/command/compilation.hpp"
#include "compiler/command/rendering.hpp"

using namespace tallow;

namespace {

// Eight lanterns at x = -3.5 … 3.5 m, two strips of one cell each, a house light.
const std::string harbour = R"(show "Harbour night"  tallow 1
    timecode  25 frames
patch 1/1
    row 1..8  dimmer
    glow 1..2 par-rgb
    house     dimmer
hang bar  height 5m
    row 1..8  -3.5m .. 3.5m
wave tide  sine  period 4s  wavelength 5m  along x
    intensity  20% .. full
wave ring  triangle  period 3s  wavelength 4m  along x  travel outward
    intensity  out .. full
chase knock  every 500ms  fade 200ms  loop
    step 1    row 5, 7  full
    step 2    row 6, 8  50%
submaster 1 "Blue"
    glow      emitter blue full  80%
submaster 2 "Row"
    row       40%
safety
    keep      house  above 10%
cue 1  fade 2s
    row       80%  wave tide
    glow      emitter red full  50%
cue 2  cut  timecode 00:00:08:00
    row 1..4  60%  wave ring
list house-lights
cue 1  fade 3s
    house     70%
cue 2  fade 2s
    house     out
list effects
cue 1  fade 1s
    chase knock
cue 2  fade 2s
    chase knock off
)";
// GO of main at 1 s; house-lights at 0 and 6 s; effects at 4 s and 12 s. Timecode starts at 00:00:02:00, so
// cue 2 is due at 6 s. Submaster 1 goes to half at 3 s, submaster 2 to full at 10 s; the grand master to 50 %
// at 14 s.
const char* const commands =
    "0s go house-lights, 1s go, 3s submaster 1 50%, 4s go effects, 6s go house-lights, 10s submaster 2 full, "
    "12s go effects, 14s grand 50%";
constexpr double end = 16;

using Real = long double;

Real part(Real t, Real from, Real length) {
    return std::clamp((t - from) / length, Real{0}, Real{1});
}
Real sine(Real phase) {
    return 0.5L + 0.5L * std::sin(2 * 3.14159265358979323846264L * phase);
}
Real triangle(Real phase) {
    const Real f = phase - std::floor(phase);
    return f < 0.25L ? 0.5L + 2 * f : f < 0.75L ? 1.5L - 2 * f : 2 * f - 1.5L;
}
Real place(int lantern) {  // 0..7
    return -3.5L + lantern;
}

// What main gives a lantern of the row: cue 1 from 1 s on, over it cue 2 for the first four from 6 s on, at
// once.
Real of_main(int lantern, Real t) {
    const Real tide = 0.8L * (0.2L + 0.8L * sine((t - 1) / 4 - place(lantern) / 5));
    if (t < 1) return 0;
    if (lantern >= 4 || t < 6) return part(t, 1, 2) * tide;
    // Of the four that cue 2 names the middle is at -2 m: the farthest is 1.5 m from it.
    return 0.6L * triangle((t - 6) / 3 - std::abs(place(lantern) + 2) / 4);
}

// What the chase gives lanterns 5 to 8 in the list `effects`, t seconds after its GO.
Real of_chase(int lantern, Real t) {
    const bool first = lantern % 2 == 0;  // 5 and 7
    const Real own = first ? 1 : 0.5L;
    const int step = static_cast<int>(std::floor(t / 0.5L));
    const bool on = (step % 2 == 0) == first;
    const Real way = step == 0 ? 1 : std::min(Real{1}, (t - step * 0.5L) / 0.2L);
    return own * (on ? way : step == 0 ? 0 : 1 - way);
}
Real of_effects(int lantern, Real t) {
    if (lantern < 4 || t < 4) return 0;
    return part(t, 4, 1) * (1 - part(t, 12, 2)) * of_chase(lantern, t - 4);
}

Real master(Real t) {
    return t < 14 ? 1 : 0.5L;
}

Real row(int lantern, Real t) {
    const Real submaster = t < 10 ? 0 : 0.4L;
    return master(t) * std::max({of_main(lantern, t), of_effects(lantern, t), submaster});
}

Real house(Real t) {
    const Real level = t < 6 ? 0.7L * part(t, 0, 3) : 0.7L * (1 - part(t, 6, 2));
    return std::max(0.1L, master(t) * level);
}

struct Glow {
    Real red, green, blue;
};
// Lit by main from 1 s on in red; the submaster stands at half from 3 s on: blue mixed in by half, at 40 % at
// the least.
Glow glow(Real t) {
    const Real own = 0.5L * part(t, 1, 2), sub = t < 3 ? 0 : 0.5L;
    const Real level = master(t) * std::max(own, 0.8L * sub);
    if (t < 1) return {0, 0, 0};
    return {level * (1 - sub), 0, level * sub};
}

}  // namespace

TEST_CASE("a show of lists, a chase, submasters, timecode and waves in metres renders as computed apart",
          "[reference][language][render]") {
    auto compiled = command::compile(
        "harbour.tallow", [](const std::string&) { return runtime::Result<std::string>(harbour); });
    REQUIRE(compiled.ok());
    std::string errors;
    for (const auto& d : (*compiled)->sink.sorted()) errors += source::render(d, (*compiled)->sources);
    INFO(errors);
    REQUIRE_FALSE((*compiled)->failed());
    const runtime::Roll roll = command::make_roll(**compiled);
    const auto script = runtime::read_script({"", commands, "00:00:02:00"}, roll);
    REQUIRE(script.why() == "");

    std::size_t frames = 0, wrong = 0;
    std::string first_wrong;
    const command::FrameSink sink{
        [](std::uint32_t) {},
        [&](std::span<const std::uint8_t> slots) {
            const Real t = static_cast<Real>(frames++) / 40;
            const auto check = [&](const std::string& what, std::size_t slot, Real value) {
                const Real exact = 255 * value;
                if (std::abs(static_cast<Real>(slots[slot - 1]) - exact) <= 1.51L) return;
                if (wrong++ == 0)
                    first_wrong = what + " at " + std::to_string(static_cast<double>(t)) +
                                  " s: " + std::to_string(slots[slot - 1]) + ", not " +
                                  std::to_string(static_cast<double>(exact));
            };
            for (int i = 0; i < 8; ++i)
                check("row " + std::to_string(i + 1), static_cast<std::size_t>(i + 1), row(i, t));
            const Glow colour = glow(t);
            for (const std::size_t at : {9u, 12u}) {
                check("red", at, colour.red);
                check("green", at + 1, colour.green);
                check("blue", at + 2, colour.blue);
            }
            check("house", 15, house(t));
            return runtime::Status();
        }};
    std::vector<std::string> said;
    CHECK(command::render(roll, {*script, 0, static_cast<std::uint64_t>(end * 1000)}, sink, said).why() ==
          "");
    CHECK(frames == static_cast<std::size_t>(end * 40));
    INFO(first_wrong);
    CHECK(wrong == 0);
}
