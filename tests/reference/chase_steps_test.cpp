// Waves as the steps of a desk's chases, against formulas and against the engine's own light.
#include "compiler/desk/chase_steps.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <numeric>

#include "runtime/engine/engine.hpp"
#include "runtime/engine/waveform.hpp"
#include "tests/support/csv.hpp"
#include "tests/support/desk_show.hpp"

using namespace tallow;
using desk::Percent;
using runtime::Phase;

namespace {

constexpr Percent percent = 1'000'000;
constexpr double turn = 18446744073709551616.0;  // of a Phase

Phase phase(double part) {
    return static_cast<Phase>((part - std::floor(part)) * turn);
}

// Of full swing, to a millionth of a percent: finer than the runtime's table, so that the steps alone count.
desk::Mover sine(double offset, double turns = 1) {
    return {[=](Phase p) {
                const double at = static_cast<double>(p) / turn * turns + offset;
                return static_cast<Percent>(std::llround(5e7 + 5e7 * std::sin(2 * M_PI * at)));
            },
            {}};
}

// Its crest lies in the middle between two of so many steps: there the straight line is off most.
desk::Mover worst_sine(int steps) {
    return sine(0.25 - 0.5 / steps);
}

}  // namespace

// ½·(1 − cos(π/N)) of the swing. Textbook geometry; the project's references give the values for 3..24.
TEST_CASE("a sine between even steps is off by as much as the formula says", "[reference][desk]") {
    const std::map<int, double> table{{3, 25.0},  {4, 14.6},  {5, 9.55}, {6, 6.70}, {8, 3.81},
                                      {10, 2.45}, {12, 1.70}, {16, .96}, {24, .43}};
    for (int steps = 3; steps <= 24; ++steps) {
        const double off = 50 * (1 - std::cos(M_PI / steps));
        // No tolerance can be kept, so all steps are taken; and notches of a millionth of a percent.
        const auto plan = desk::chase_steps({worst_sine(steps)}, 1, 0, static_cast<std::size_t>(steps));
        INFO(steps << " steps");
        REQUIRE(plan.steps == static_cast<std::size_t>(steps));
        CHECK(plan.fades);
        CHECK(static_cast<double>(plan.worst[0]) / percent == Approx(off).margin(0.01));
        if (table.count(steps) == 1) CHECK(off == Approx(table.at(steps)).margin(0.05));
        // And that is when so many steps are within a tolerance.
        const auto within = static_cast<Percent>(std::llround((off + 0.001) * percent));
        CHECK(desk::chase_steps({worst_sine(steps)}, 1, within, 1000).needed ==
              static_cast<std::size_t>(steps));
    }
}

// A ramp that is held in N steps at the level of each step's middle is off by 1/2N of its height.
TEST_CASE("a ramp that jumps back is held in steps", "[reference][desk]") {
    const desk::Mover ramp{[](Phase p) { return static_cast<Percent>((p >> 32) * 100'000'000 >> 32); }, {0}};
    for (const int steps : {4, 10, 25}) {
        const auto within = static_cast<Percent>(50 * percent / steps + 10);
        const auto plan = desk::chase_steps({ramp}, 1, within, 40);
        CHECK(plan.steps == static_cast<std::size_t>(steps));
        CHECK_FALSE(plan.fades);
        CHECK(static_cast<double>(plan.worst[0]) / percent == Approx(50.0 / steps).margin(0.001));
        CHECK(static_cast<double>(plan.mean[0]) / percent == Approx(25.0 / steps).margin(0.001));
    }
}

// Against a sum over many instants, with the levels as they are set.
TEST_CASE("the mean error is the mean over time", "[reference][desk]") {
    for (const int steps : {4, 7, 12}) {
        const desk::Mover mover = sine(0.1);
        const auto plan = desk::chase_steps({mover}, 5 * percent, 0, static_cast<std::size_t>(steps));
        double sum = 0;
        constexpr int instants = 200'000;
        for (int n = 0; n < instants; ++n) {
            const double at = (n + 0.5) / instants * steps;
            const auto k = static_cast<std::size_t>(at);
            const double along = at - std::floor(at);
            const auto from = static_cast<double>(plan.levels.at(k, 0)),
                       to = static_cast<double>(plan.levels.at((k + 1) % plan.steps, 0));
            const double has = plan.fades ? from + (to - from) * along : from;
            sum += std::abs(has - static_cast<double>(mover.at(phase(at / steps))));
        }
        CHECK(static_cast<double>(plan.mean[0]) / percent == Approx(sum / instants / percent).margin(0.01));
    }
}

namespace {

const std::string moving = R"(show "Waves" tallow 1
patch 1/1
    lamp 1..6   dimmer
    tint 1..4   par-rgb
wave swell   sine  period 3s  wavelength 6
    intensity   20% .. full
wave blink   square  period 2s  duty 25%
    intensity   out .. full
wave ramp    rise  period 4s
    intensity   10% .. 90%
wave turn    triangle  period 4s  wavelength 4
    red     out .. full
    blue    full .. out
wave wheel   rise  period 6s
    hue     0deg .. 360deg
wave candle  flicker  period 300ms  seed 3
    intensity   50% .. full
cue 1  cut
    lamp     80%  wave swell
cue 2  cut
    lamp     full  wave blink
cue 3  cut
    lamp     full  wave ramp
    tint     50%  wave turn
cue 4  cut
    lamp     steady
    tint     full  wave wheel
cue 5  cut
    lamp     full  wave candle
cue 6  cut
    lamp     80%  wave swell  period 3s
chase runner  every 400ms  fade 100ms  loop
    step 1   lamp odd     full
    step 2   lamp even    60%
    step 2   tint         #ff0000 full
    step 2   takes 800ms
chase steps   every 500ms  loop
    step 1   lamp 1..3    full
    step 2   lamp 4..6    30%
    step 3   lamp 1, 6    full
cue 7  cut
    lamp     steady
    chase runner
cue 8  cut
    chase runner off
    chase steps
cue 9  cut
    chase steps off
desk hall  plays universe 1
    layout   pair  20 channels  2 scenes
    chases   8 each STEPS steps
    notch    5%
)";

std::string with_steps(const std::string& steps) {
    std::string text = moving;
    return text.replace(text.find("STEPS"), 5, steps);
}

// A chase as hands have written it down from the CSV.
struct Sheet {
    double round_s = 0, fade_s = 0, step_s = 0;
    std::vector<std::map<int, double>> steps;  // channel to percent
    std::map<int, double> worst;
    std::string cue;  // the first
};

std::vector<Sheet> chases_of(const emit::SheetSet& set) {
    std::vector<Sheet> all;
    std::map<std::pair<std::string, std::string>, std::map<int, double>> looks;
    for (const auto& row : test::csv_table(set, "looks"))
        looks[{row.at("chase"), row.at("look")}][std::stoi(row.at("channel"))] = std::stod(row.at("level"));
    for (const auto& row : test::csv_table(set, "chases")) {
        Sheet s;
        s.round_s = std::stod(row.at("round_s"));
        s.fade_s = std::stod(row.at("fade_s"));
        s.step_s = std::stod(row.at("step_s"));
        s.cue = row.at("cues").substr(0, row.at("cues").find(','));
        for (const auto& step : test::csv_table(set, "steps"))
            if (step.at("chase") == row.at("chase"))
                s.steps.push_back(looks.at({row.at("chase"), step.at("look")}));
        for (const auto& error : test::csv_table(set, "chase_errors"))
            if (error.at("chase") == row.at("chase"))
                s.worst[std::stoi(error.at("channel"))] = std::stod(error.at("worst"));
        REQUIRE(std::to_string(s.steps.size()) == row.at("steps"));
        CHECK(s.step_s == Approx(s.round_s / static_cast<double>(s.steps.size())).margin(0.0005));
        CHECK(std::stod(row.at("per_minute")) ==
              Approx(60 * static_cast<double>(s.steps.size()) / s.round_s).margin(0.05));
        CHECK((s.fade_s == s.step_s || s.fade_s == 0));
        all.push_back(std::move(s));
    }
    return all;
}

double level(const Sheet& chase, int channel, double seconds) {
    const double place = seconds / chase.round_s * static_cast<double>(chase.steps.size());
    const auto k = static_cast<std::size_t>(place) % chase.steps.size();
    const double from = chase.steps[k].at(channel);
    if (chase.fade_s == 0) return from;
    return from +
           (chase.steps[(k + 1) % chase.steps.size()].at(channel) - from) * (place - std::floor(place));
}

// Runs the show to a cue, then compares the second round from its GO on: in the first one a chase of the show
// has no step to fade from.
void compare(const runtime::Roll& roll, const Sheet& chase) {
    runtime::Engine engine(roll);
    const runtime::Tick second = runtime::ticks_per_frame * roll.refresh;
    runtime::Tick go = second;
    do engine.go(go += 600 * second);
    while (std::to_string(roll.cues[*engine.current()].number / 1000) != chase.cue);
    constexpr double half_a_slot = 50.0 / 255;
    constexpr int instants = 3001;  // shares no factor with steps or periods in milliseconds
    std::map<int, double> off;
    for (int n = 0; n < instants; ++n) {
        const double seconds = chase.round_s * n / instants;
        engine.advance(go +
                       static_cast<runtime::Tick>((chase.round_s + seconds) * static_cast<double>(second)));
        for (const auto& [channel, worst] : chase.worst) {
            const double sent = engine.slots(0)[static_cast<std::size_t>(channel - 1)] * 100.0 / 255;
            off[channel] = std::max(off[channel], std::abs(level(chase, channel, seconds) - sent));
        }
    }
    for (const auto& [channel, worst] : chase.worst) {
        INFO("cue " << chase.cue << ", channel " << channel);
        CHECK(off[channel] <= worst + half_a_slot + 0.05);
        CHECK(off[channel] >= worst - half_a_slot - 0.5);  // nor is it said to be worse than it is
    }
}

}  // namespace

TEST_CASE("a chase played from the sheet is off by no more than it says", "[reference][desk]") {
    for (const std::string steps : {"24", "8", "5"}) {
        auto show = test::desk_show(with_steps(steps));
        const runtime::Roll roll = command::make_roll(*show.compiled);
        const auto chases = chases_of(show.sheets);
        INFO(steps << " steps at most");
        // swell (twice, as one), blink, ramp and turn (of one period, as one), wheel, and the show's own.
        REQUIRE(chases.size() == 6);
        for (const Sheet& chase : chases) compare(roll, chase);
        if (steps == "24") {
            CHECK(chases[0].steps.size() <= 12);
            CHECK(chases[1].steps.size() == 4);  // a quarter of the round, cut
            CHECK(chases[1].fade_s == 0);
            CHECK(chases[1].worst.at(1) == 0);
            CHECK(chases[4].steps.size() == 12);  // 1200 ms by crossfades of 100 ms
            CHECK(chases[4].fade_s == Approx(0.1));
            CHECK(chases[4].worst.at(1) <= 0.01);
            CHECK(chases[5].steps.size() == 3);  // the show's own, cut
            CHECK(chases[5].fade_s == 0);
            CHECK(chases[5].worst.at(6) <= 0.01);
        }
    }
}
