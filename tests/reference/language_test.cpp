// Whole shows from text to slots, against the formulas of LANGUAGE.md computed here in real numbers.
#include <algorithm>
#include <array>
#include <catch2/catch.hpp>
#include <cmath>
#include <set>

#include "runtime/engine.hpp"
#include "tests/suite/section.hpp"

using namespace tallow;
using runtime::Tick;

namespace {

constexpr Tick frame = 1000;     // ticks; at 40Hz
constexpr Tick second = 40'000;  // ticks

// A compiled show and its engine; `at` gives slots at a time, in seconds, with GOs given before.
struct Played {
    std::unique_ptr<command::Compilation> compiled;
    runtime::Roll roll;
    std::unique_ptr<runtime::Engine> engine;

    explicit Played(const std::string& text)
        : compiled(test::compile_section({"", {{"show.tallow", text}}})) {
        std::string all;
        for (const auto& d : compiled->sink.sorted()) all += source::render(d, compiled->sources);
        INFO(all);
        REQUIRE_FALSE(compiled->failed());
        roll = command::make_roll(*compiled);
        engine = std::make_unique<runtime::Engine>(roll);
    }
    void go(long double seconds) { REQUIRE(engine->go(ticks(seconds))); }
    int slot(long double seconds, int number) {
        engine->advance(ticks(seconds));
        return engine->slots(0)[static_cast<std::size_t>(number - 1)];
    }
    int wide(long double seconds, int number) {
        return slot(seconds, number) * 256 + slot(seconds, number + 1);
    }
    static Tick ticks(long double seconds) { return static_cast<Tick>(std::llround(seconds * second)); }
};

// floor(255·v + 1/2), and what may differ from it.
bool near(int slot, long double v) {
    return std::abs(slot - static_cast<int>(std::floor(255 * v + 0.5L))) <= 1;
}

const std::string dimmers = "show \"T\" tallow 1\npatch 1/1\n    front 1..8 dimmer\n";

long double between(long double low, long double high, long double w) {
    return low + (high - low) * w;
}

long double wrapped(long double f) {
    return f - std::floor(f);
}

}  // namespace

TEST_CASE("levels from text are rounded as the language page says", "[reference][language]") {
    Played p(dimmers +
             "    mover head at 1/100\ncue 1 cut\n    front 1 50%\n    front 2 33.3%\n    front 3 dmx 77\n"
             "    front 4 full\n    front 5 0.2%\n    mover pan dmx16 12345 tilt 25%\n");
    p.go(0);
    CHECK(p.slot(0, 1) == 128);
    CHECK(p.slot(0, 2) == static_cast<int>(std::floor(255 * 0.333L + 0.5L)));
    CHECK(p.slot(0, 3) == 77);
    CHECK(p.slot(0, 4) == 255);
    CHECK(p.slot(0, 5) == 1);
    CHECK(p.slot(0, 6) == 0);
    CHECK(p.wide(0, 100) == 12345);
    CHECK(p.wide(0, 102) == static_cast<int>(std::floor(65535 * 0.25L + 0.5L)));
}

TEST_CASE("a scale in units finds its place", "[reference][language]") {
    Played p("patch 1/1\n    mover head\ncue 1 cut\n    mover pan 30deg tilt -135deg\n");
    CHECK(p.wide(0, 1) == 32768);  // at home before the first GO
    p.go(0);
    CHECK(std::abs(p.wide(0, 1) - static_cast<int>(std::floor(65535 * 300.0L / 540 + 0.5L))) <= 1);
    CHECK(p.wide(0, 3) == 0);
}

TEST_CASE("every waveform and travel, with wavelength, phase, duty and swing", "[reference][language]") {
    const struct {
        const char* words;
        long double (*w)(long double f);
    } forms[] = {
        {"sine", [](long double f) { return 0.5L + 0.5L * std::sin(2 * 3.14159265358979323846L * f); }},
        {"triangle",
         [](long double f) { return f < 0.25L   ? 0.5L + 2 * f
                                    : f < 0.75L ? 1.5L - 2 * f
                                                : 2 * f - 1.5L; }},
        {"rise", [](long double f) { return f; }},
        {"fall", [](long double f) { return 1 - f; }},
        {"square", [](long double f) { return f < 0.5L ? 1.0L : 0.0L; }},
        {"points 0% 0%, 20% full, 100% out",
         [](long double f) { return f < 0.2L ? f / 0.2L : (1 - f) / 0.8L; }},
    };
    const struct {
        const char* word;
        long double (*d)(int i, int n);
    } travels[] = {
        {"forward", [](int i, int) { return static_cast<long double>(i); }},
        {"backward", [](int i, int) { return static_cast<long double>(-i); }},
        {"outward", [](int i, int n) { return std::fabs(i - (n - 1) / 2.0L); }},
        {"inward", [](int i, int n) { return -std::fabs(i - (n - 1) / 2.0L); }},
    };
    for (const auto& form : forms)
        for (const auto& travel : travels) {
            INFO(form.words << " " << travel.word);
            Played p(dimmers + "wave w " + form.words + " period 3s wavelength 5 phase 30deg travel " +
                     travel.word +
                     "\n    intensity 20% .. full\ncue 1 cut\n    front 80% wave w swing 50%\n");
            p.go(0);
            // Off the edges of squares and rises, where a rounding decides.
            for (const long double t : {0.05L, 0.4L, 1.075L, 1.6L, 2.925L, 7.325L, 100.05L})
                for (int i = 0; i < 8; ++i) {
                    const long double f = wrapped(t / 3 + 30.0L / 360 - travel.d(i, 8) / 5);
                    CHECK(near(p.slot(t, i + 1), 0.8L * between(0.4L, 0.8L, form.w(f))));
                }
        }
}

TEST_CASE("duty, a line's own phase and a scattered travel", "[reference][language]") {
    Played p(dimmers +
             "wave w square period 1s duty 30% phase 90deg\n    intensity out .. full\n"
             "cue 1 cut\n    front full wave w phase 36deg\n");
    p.go(0);
    for (int n = 0; n < 40; ++n) {
        // Between the frames, off the edges.
        const long double t = (n + 0.5L) / 40, f = wrapped(t + 126.0L / 360);
        CHECK(p.slot(t, 1) == (f < 0.3L ? 255 : 0));
    }
    // Scattered: each member at a place of its own among 0..7.
    Played s(dimmers +
             "wave w rise period 8s wavelength 8 travel scattered seed 5\n    intensity out .. full\n"
             "cue 1 cut\n    front full wave w\n");
    s.go(0);
    std::set<int> places;
    for (int i = 0; i < 8; ++i)
        places.insert(static_cast<int>(std::lround(s.slot(0.4L, i + 1) * 8 / 255.0L - 0.4L)));
    CHECK(places == std::set<int>{0, 1, 2, 3, 4, 5, 6, 7});
    bool in_order = true;
    for (int i = 1; i < 7; ++i) in_order = in_order && s.slot(0.4L, i + 2) < s.slot(0.4L, i + 1);
    CHECK_FALSE(in_order);
}

TEST_CASE("up, down, delay, curve and a line's own times", "[reference][language]") {
    Played p(dimmers +
             "cue 1 cut\n    front 1..4 60%\n"
             "cue 2 up 4s down 2s delay 1s curve ease\n    front 1 full\n    front 2 20%\n"
             "    front 3 full fade 6s\n    front 4 out delay 3s\n");
    p.go(0);
    p.go(10);
    const auto ease = [](long double x) { return x * x * (3 - 2 * x); };
    const auto at = [&](long double t, long double from, long double to, long double delay,
                        long double time) {
        return between(from, to, ease(std::clamp((t - delay) / time, 0.0L, 1.0L)));
    };
    for (int n = 0; n < 300; ++n) {
        const long double t = n / 40.0L;
        CHECK(near(p.slot(10 + t, 1), at(t, 0.6L, 1, 1, 4)));
        CHECK(near(p.slot(10 + t, 2), at(t, 0.6L, 0.2L, 1, 2)));
        CHECK(near(p.slot(10 + t, 3), at(t, 0.6L, 1, 1, 6)));
        CHECK(near(p.slot(10 + t, 4), at(t, 0.6L, 0, 3, 2)));
    }
}

TEST_CASE("colour, move and beam times, and values that jump at their delay", "[reference][language]") {
    Played p(
        "type spot\n    mode m intensity pan zoom gobo red\n    range zoom is 10deg..40deg\n"
        "    range gobo none 0..99 star 100..199\npatch 1/1\n    spot spot\n"
        "cue 1 cut\n    spot full pan 0% zoom 10deg gobo none emitter red 0%\n"
        "cue 2 fade 1s colour 2s move 4s beam 8s delay 1s\n    spot pan full zoom 40deg gobo star emitter "
        "red full\n");
    p.go(0);
    p.go(1);
    for (int n = 0; n < 400; ++n) {
        const long double t = n / 40.0L;
        const auto way = [&](long double time) { return std::clamp((t - 1) / time, 0.0L, 1.0L); };
        CHECK(near(p.slot(1 + t, 2), way(4)));
        CHECK(near(p.slot(1 + t, 3), way(8)));
        CHECK(p.slot(1 + t, 4) == (t < 1 ? 49 : 149));
        CHECK(near(p.slot(1 + t, 5), way(2)));
    }
}

TEST_CASE("a beam wave replaces the value, a position wave is added to it", "[reference][language]") {
    Played p(
        "type spot\n    mode m intensity pan zoom\n    range pan is -270deg..270deg\n    range zoom is "
        "10deg..40deg\n"
        "patch 1/1\n    spot spot\nwave w rise period 4s\n    zoom 20deg .. 30deg\n    pan -54deg .. 54deg\n"
        "cue 1 cut\n    spot full pan 54deg zoom 40deg wave w\ncue 2 cut\n    spot zoom 10deg pan 0deg\n");
    p.go(0);
    for (int n = 0; n < 160; ++n) {
        const long double t = n / 40.0L, f = t / 4;
        CHECK(near(p.slot(t, 3), between(1 / 3.0L, 2 / 3.0L, f)));
        CHECK(near(p.slot(t, 2), 0.6L + between(-0.1L, 0.1L, f)));
    }
    p.go(5);  // a new zoom ends its wave, a new pan keeps its own
    CHECK(p.slot(5, 3) == 0);
    CHECK(near(p.slot(5, 2), 0.5L + between(-0.1L, 0.1L, 0.25L)));
}

TEST_CASE("follow and next-at start at exact times, and a point cue plays between its neighbours",
          "[reference][language]") {
    Played p(dimmers +
             "cue 3 fade 1s\n    front 3 full\ncue 1 fade 1.51s follow 0.5s\n    front 1 full\n"
             "cue 2 cut next-at 700ms\n    front 2 full\ncue 2.5 cut\n    front 4 full\n");
    p.go(0);
    CHECK(p.slot(2, 2) == 0);
    CHECK(p.slot(2.025L, 2) == 255);  // due at 2.01s
    CHECK(p.slot(2.7L, 4) == 0);
    CHECK(p.slot(2.725L, 4) == 255);  // due at 2.71s
    CHECK(p.slot(5, 3) == 0);
    p.go(6);
    CHECK(near(p.slot(6.5L, 3), 0.5L));
}

TEST_CASE("a GO in the middle of a fade goes on from the present value", "[reference][language]") {
    Played p(dimmers + "cue 1 fade 4s\n    front 1 full\ncue 2 fade 2s\n    front 1 20%\n");
    p.go(0);
    p.go(1);
    for (int n = 0; n <= 100; ++n) {
        const long double t = n / 40.0L;
        CHECK(near(p.slot(1 + t, 1), between(0.25L, 0.2L, std::min(t / 2, 1.0L))));
    }
}

TEST_CASE("ten cues track", "[reference][language]") {
    std::string text = dimmers;
    for (int cue = 1; cue <= 10; ++cue)
        text += "cue " + std::to_string(cue) + " cut\n    front " + std::to_string(1 + cue % 8) + " " +
                std::to_string(cue * 9) + "%\n";
    Played p(text);
    std::array<int, 8> percent{};
    for (int cue = 1; cue <= 10; ++cue) {
        p.go(cue);
        percent[static_cast<std::size_t>(cue % 8)] = cue * 9;
        for (int i = 0; i < 8; ++i)
            CHECK(p.slot(cue, i + 1) ==
                  static_cast<int>(std::floor(255 * percent[static_cast<std::size_t>(i)] / 100.0L + 0.5L)));
    }
}

TEST_CASE("a cue-only cue leaves no trace, two in a row neither; block lets nothing pass",
          "[reference][language]") {
    Played p(dimmers +
             "cue 1 cut\n    front 1 50%\n    front 2 30%\ncue 2 cut cue-only\n    front 1 full\n"
             "cue 3 cut cue-only\n    front 1..3 full\ncue 4 cut\n    front 4 10%\n"
             "cue 5 cut block\n    front 4 20%\n");
    const auto state = [&](long double t) {
        return std::array{p.slot(t, 1), p.slot(t, 2), p.slot(t, 3), p.slot(t, 4)};
    };
    p.go(1);
    CHECK(state(1) == std::array{128, 77, 0, 0});
    p.go(2);
    CHECK(state(2) == std::array{255, 77, 0, 0});
    p.go(3);
    CHECK(state(3) == std::array{255, 255, 255, 0});
    p.go(4);
    CHECK(state(4) == std::array{128, 77, 0, 26});
    p.go(5);
    CHECK(state(5) == std::array{0, 0, 0, 51});
}

TEST_CASE("emitters alone, colours over waves, steady, and masters over cells", "[reference][language]") {
    Played p(
        "type bar\n    mode m intensity 2 x (red green blue)\npatch 1/1\n    par par-rgb\n    bar bar\n"
        "palette purple red 50% blue full\n"
        "wave w square period 2s\n    red out .. full\n    green 40% .. 60%\n"
        "cue 1 cut\n    par full emitter red 40%\n    bar full\n    bar cell 1 50% purple\n"
        "cue 2 cut\n    par wave w\ncue 3 cut\n    par 50%\ncue 4 cut\n    par steady\n"
        "cue 5 cut\n    par wave w\ncue 6 cut\n    par purple\n");
    const auto par = [&](long double t) { return std::array{p.slot(t, 1), p.slot(t, 2), p.slot(t, 3)}; };
    CHECK(p.slot(0, 4) == 0);
    p.go(1);
    CHECK(par(1) == std::array{102, 0, 0});  // no colour yet: the others start at 0
    // The master is a slot; cells under it begin at full, and white until they are given a colour.
    CHECK(std::array{p.slot(1, 4), p.slot(1, 5), p.slot(1, 6), p.slot(1, 7)} == std::array{255, 64, 0, 128});
    CHECK(std::array{p.slot(1, 8), p.slot(1, 9), p.slot(1, 10)} == std::array{255, 255, 255});
    p.go(2);
    CHECK(par(2.5L) == std::array{255, 153, 0});  // emitters that the wave does not name are at 0
    CHECK(par(3.5L) == std::array{0, 102, 0});
    p.go(4);
    CHECK(par(4.5L) == std::array{128, 77, 0});  // a level scales it and leaves it running
    p.go(6);
    CHECK(par(6) == std::array{51, 0, 0});  // the colour beneath
    p.go(8);
    CHECK(par(8.5L) == std::array{128, 77, 0});
    p.go(10);
    CHECK(par(10) == std::array{64, 0, 128});  // a new colour ends it
}

TEST_CASE("a palette of emitters passes over a fixture that has none of them", "[reference][language]") {
    Played p(
        "type lime-par\n    mode colour lime red\npatch 1/1\n    side par-rgb\n    lim lime-par\n"
        "palette leaf lime full\ncue 1 cut\n    side, lim #ff0000 full\ncue 2 cut\n    side, lim leaf\n");
    p.go(0);
    CHECK(p.slot(0, 1) == 255);
    p.go(1);
    CHECK(p.slot(1, 1) == 255);  // `side` has no lime
    CHECK(p.slot(1, 4) == 255);
    CHECK(p.slot(1, 5) == 0);
}

TEST_CASE("a gang counts once, and dark fixtures take their colour at once", "[reference][language]") {
    Played p(
        "patch 1/1\n    twin 1..2 par-rgb ganged\n    side par-rgb\n    end dimmer\n"
        "palette pure red full\n"
        "wave w rise period 4s wavelength 4\n    intensity out .. full\n"
        "cue 1 cut\n    twin, side, end full\n    twin, side, end wave w\n"
        "cue 2 cut\n    all out steady\ncue 3 fade 4s\n    side pure full\n");
    p.go(0);
    // Two bodies are one member: side is the second, end the third.
    CHECK(near(p.slot(1, 1), 0.25L));
    CHECK(near(p.slot(1, 4), 0));
    CHECK(near(p.slot(1, 7), 0.75L));
    p.go(2);
    p.go(3);
    CHECK(near(p.slot(5, 4), 0.5L));
    CHECK(p.slot(5, 5) == 0);  // it comes up red, not out of white
}

TEST_CASE("a wave that is stated again at another period keeps its phase", "[reference][language]") {
    Played p(dimmers +
             "wave w rise period 4s\n    intensity out .. full\ncue 1 cut\n    front 1 full wave w\n"
             "cue 2 cut\n    front 1 wave w period 2s\ncue 3 cut\n    front 1..2 full wave w\n");
    p.go(0);
    p.go(1);
    CHECK(near(p.slot(1.5L, 1), 0.25L + 0.25L));
    p.go(2);
    CHECK(near(p.slot(3, 1), 0.25L));  // on another selection it begins anew
}
