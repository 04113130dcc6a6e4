// A wave over the hue against the hue of each instant solved by itself. Source: "Waves in numbers" and
// "Colour" of grammar/LANGUAGE.md.
#include <catch2/catch.hpp>
#include <cmath>

#include "compiler/colour/srgb.hpp"
#include "compiler/track/colours.hpp"
#include "tests/support/played.hpp"

using namespace tallow;
using test::Played;

namespace {

const std::string rig = R"(
type six
    mode one  red green blue amber cyan indigo intensity
type four
    mode one  red green blue white intensity
type five
    mode one  red green blue amber white intensity
type seven
    mode one  red amber lime green cyan blue indigo intensity
patch 1/1
    par 1..3   par-rgb dimmed
    six        six
    four       four
    five       five
    seven      seven
)";

// The slots of a type's emitters for a hue, by the solver alone.
std::vector<double> solved(const show::Show& show, const std::string& type, double hue, double saturation) {
    const track::Colours colours(show);
    std::vector<double> slots;
    for (show::Index t = 0; t < show.types.size(); ++t)
        if (show.types[t].name == type)
            for (const runtime::Level level :
                 colours.solve({t, show::none}, colour::from_hue(hue, saturation)).level)
                slots.push_back(255.0 * level / 65535.0);
    return slots;
}

// How far any slot of a fixture lies from the exact solution, at most, over `seconds`.
double worst(Played& play, const std::string& fixture, const std::string& type, double saturation,
             int seconds, const std::function<double(double)>& hue) {
    const show::Show& show = play.compilation().show;
    std::vector<std::string> names;
    for (const show::Type& t : show.types)
        if (t.name == type)
            for (const show::Emitter& e : t.emitters) names.push_back(e.name);
    REQUIRE(names.size() >= 3);
    double most = 0;
    for (int ms = 0; ms < seconds * 1000; ms += 37) {
        play.at(static_cast<std::uint64_t>(ms));
        const std::vector<double> exact = solved(show, type, hue(ms / 1000.0), saturation);
        for (std::size_t e = 0; e < names.size(); ++e)
            most = std::max(most, std::abs(play.slot(fixture + "/" + names[e]) - exact[e]));
    }
    return most;
}

}  // namespace

TEST_CASE("a wave turns the hue, emitter by emitter, within a step of the exact colour",
          "[reference][colour]") {
    const auto f = [](double turns) { return turns - std::floor(turns); };
    SECTION("round and round") {
        Played play(rig +
                    "wave turn  rise  period 10s  wavelength 3\n    hue 0deg .. 360deg\ncue 1 cut\n"
                    "    par full  wave turn\n    six full  wave turn\n");
        play.go(0);
        CHECK(worst(play, "par/2", "par-rgb", 1, 20, [&](double t) { return 360 * f(t / 10 - 1 / 3.0); }) <=
              1.5);
        for (const std::string type : {"four", "five", "six", "seven"}) {
            CAPTURE(type);
            Played again(rig + "wave turn  rise  period 10s\n    hue 0deg .. 360deg\ncue 1 cut\n    " + type +
                         " full  wave turn\n");
            again.go(0);
            CHECK(worst(again, type, type, 1, 20, [&](double t) { return 360 * f(t / 10); }) <= 1.5);
        }
    }
    SECTION("to and fro, pale and with less swing") {
        Played play(rig +
                    "wave sway  sine  period 8s  swing 50%\n    hue 100deg .. 300deg  saturation 60%\n"
                    "cue 1 cut\n    par full  wave sway\n");
        play.go(0);
        CHECK(worst(play, "par/1", "par-rgb", 0.6, 8,
                    [](double t) { return 200 + 50 * std::sin(2 * 3.14159265358979323846 * t / 8); }) <= 1.5);
    }
    SECTION("a hue that jumps") {
        Played play(rig +
                    "wave hop  square  period 4s\n    hue 0deg .. 120deg\ncue 1 cut\n"
                    "    par full  wave hop\n");
        play.go(0);
        CHECK(worst(play, "par/1", "par-rgb", 1, 8, [&](double t) { return f(t / 4) < 0.5 ? 120.0 : 0.0; }) <=
              1.5);
    }
}
