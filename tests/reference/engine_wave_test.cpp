// The rules of waves in LANGUAGE.md, against its formulas in real numbers; edges of waveforms in exact
// fractions.
#include <catch2/catch.hpp>
#include <cmath>

#include "runtime/engine/waveform.hpp"
#include "runtime/roll/roll_io.hpp"
#include "tests/support/simple_roll.hpp"

using namespace tallow;
using namespace tallow::runtime;
using namespace tallow::test;

namespace {

constexpr Tick ms = 40, second = 1000 * ms;  // at 40 frames per second

Shape shape(Shape::Form form) {
    Shape s;
    s.form = form;
    s.duty = Rational(3, 10);
    s.seed = 7;
    s.points = {{0, 0}, {Rational(1, 5), full}, {Rational(2, 3), full}, {Rational(5, 6), 20000}};
    return s;
}

std::vector<Said> all_at(const Roll& roll, Level level, std::uint32_t wave) {
    std::vector<Said> said;
    for (std::uint32_t p = 0; p < roll.parameters.size(); ++p) said.push_back({p, level, wave});
    return said;
}

Rational turns(Tick t, std::uint64_t period_ms) {
    return Rational(static_cast<std::int64_t>(t), static_cast<std::int64_t>(period_ms * ms));
}

}  // namespace

TEST_CASE("each waveform is its formula at every member and time, and exact at its edges",
          "[reference][engine][wave]") {
    using Form = Shape::Form;
    const Form form = GENERATE(Form::sine, Form::triangle, Form::rise, Form::fall, Form::square, Form::points,
                               Form::flicker);
    const Shape s = shape(form);
    CAPTURE(static_cast<int>(form));
    Roll roll = rig({Kind::intensity, Kind::intensity, Kind::intensity, Kind::intensity, Kind::intensity,
                     Kind::intensity});
    std::vector<Rational> offsets;
    for (int i = 0; i < 6; ++i)
        offsets.push_back(Rational(6 - i, 6).fraction());  // a wavelength of six, forward
    constexpr std::uint64_t period = 900;
    const std::uint32_t wave = add_wave(roll, s, period, offsets);
    add_cue(roll, {}, all_at(roll, full, wave)).starts = {wave};
    REQUIRE(validate(roll).why() == "");
    Engine engine(roll);
    const Tick g = 7777;
    engine.go(g);
    // Steps of a thirtieth of a period meet tenths, sixths and fifths exactly; the others fall between.
    for (Tick t = 0; t < 20 * second; t += t % 1200 == 0 ? 1 : t % 1200 == 1 ? 1198 : 1) {
        engine.advance(g + t);
        for (std::uint32_t i = 0; i < 6; ++i) {
            const long double due = 65535 * s.at(turns(t, period) + offsets[i], i);
            INFO("member " << i << " at " << t);
            REQUIRE(std::fabs(value(engine, i) - due) <= 3);
        }
    }
}

TEST_CASE("the sine is within 1 of 65536 at every 24-bit phase tried", "[reference][wave]") {
    for (std::uint64_t at = 0; at < (1u << 24); at += 97) {
        const long double due =
            65536 *
            (0.5L + 0.5L * std::sin(6.283185307179586476925L * static_cast<long double>(at) / (1u << 24)));
        REQUIRE(std::fabs(sine(at << 40) - due) <= 1);
    }
    CHECK(sine(0) == 32768);
    CHECK(sine(Phase{1} << 62) == 65536);
    CHECK(sine(Phase{3} << 62) == 0);
}

TEST_CASE("seeded noise is what FORMATS.md says", "[reference][wave]") {
    // Test values computed apart, from the text of FORMATS.md.
    CHECK(noise(0, 0, 0) == 42758);
    CHECK(noise(7, 0, 0) == 47284);
    CHECK(noise(7, 0, 1) == 42579);
    CHECK(noise(7, 1, 0) == 33364);
    CHECK(noise(7, 1, 1) == 49234);
    CHECK(noise(~std::uint64_t{0}, 4000000000u, std::uint64_t{1} << 40) == 50076);
}

TEST_CASE("three sines 120 degrees apart always add up to one and a half", "[reference][engine][wave]") {
    Roll roll = rig({Kind::intensity, Kind::intensity, Kind::intensity});
    const auto wave = add_wave(roll, {}, 777, {0, Rational(1, 3), Rational(2, 3)});
    add_cue(roll, {}, all_at(roll, full, wave)).starts = {wave};
    Engine engine(roll);
    engine.go(0);
    for (Tick t = 0; t < 3 * second; t += 111) {
        engine.advance(t);
        REQUIRE(std::abs(2 * (value(engine, 0) + value(engine, 1) + value(engine, 2)) - 3 * 65535) <= 6);
    }
}

TEST_CASE("the mean of a sine over whole periods is the middle of its ends", "[reference][engine][wave]") {
    Roll roll = rig({Kind::colour});
    const auto wave = add_wave(roll, {}, 1000, {Rational(1, 7)}, 10000, 30000);
    add_cue(roll, {}, {{0, 0, wave}}).starts = {wave};
    Engine engine(roll);
    engine.go(0);
    std::int64_t sum = 0;
    for (Tick frame = 0; frame < 400; ++frame) {
        engine.advance(frame * ticks_per_frame);
        sum += value(engine, 0);
    }
    CHECK(std::abs(sum / 400 - 20000) <= 1);
}

TEST_CASE(
    "a wave scales an intensity, replaces a colour or a beam value, and is added to a position, kept in "
    "range",
    "[reference][engine][wave]") {
    Roll roll = rig({Kind::intensity, Kind::colour, Kind::position, Kind::beam});
    const auto wave = add_wave(roll, shape(Shape::Form::rise), 1000, {0, 0, 0, 0});
    roll.waves[wave].low = {0, 1000, -30000, 0};
    roll.waves[wave].high = {full, 5000, 30000, 30000};
    add_cue(roll, {}, {{0, 40000, wave}, {1, 40000, wave}, {2, 20000, wave}, {3, 50000, wave}}).starts = {
        wave};
    REQUIRE(validate(roll).why() == "");
    Engine engine(roll);
    engine.go(0);
    for (Tick t = 0; t < second; t += 617) {
        engine.advance(t);
        const long double w = static_cast<long double>(t) / second;
        CHECK(std::fabs(value(engine, 0) - 40000 * w) <= 2);
        CHECK(std::fabs(value(engine, 1) - (1000 + 4000 * w)) <= 2);
        CHECK(std::fabs(value(engine, 2) - std::clamp<long double>(20000 - 30000 + 60000 * w, 0, 65535)) <=
              2);
        CHECK(std::fabs(value(engine, 3) - 30000 * w) <= 2);
    }
}

TEST_CASE("the side that fades out goes on running, its wave too", "[reference][engine][wave]") {
    Roll roll = rig({Kind::intensity});
    const Shape sine_shape;
    const auto old_wave = add_wave(roll, sine_shape, 700, {0}),
               new_wave = add_wave(roll, sine_shape, 300, {0});
    add_cue(roll, {}, {{0, full, old_wave}}).starts = {old_wave};
    add_cue(roll, {0, 2000, 2000, Curve::linear}, {{0, 30000, new_wave}}).starts = {new_wave};
    Engine engine(roll);
    engine.go(0);
    const Tick g = second;
    engine.advance(g);
    engine.go(g);
    for (Tick t = 0; t <= 2 * second; t += 501) {
        engine.advance(g + t);
        const long double c = static_cast<long double>(t) / (2 * second);
        const long double due = (1 - c) * 65535 * sine_shape.at(turns(g + t, 700), 0) +
                                c * 30000 * sine_shape.at(turns(t, 300), 0);
        REQUIRE(std::fabs(value(engine, 0) - due) <= 4);
    }
}

TEST_CASE("a running wave keeps its phase through a cue that changes the level beneath",
          "[reference][engine][wave]") {
    Roll roll = rig({Kind::intensity});
    const auto wave = add_wave(roll, shape(Shape::Form::rise), 1000, {0});
    add_cue(roll, {}, {{0, full, wave}}).starts = {wave};
    add_cue(roll, {}, {{0, 30000, wave}});
    Engine engine(roll);
    engine.go(0);
    engine.go(10 * second + second / 4);
    engine.advance(10 * second + second / 2);
    CHECK(std::abs(value(engine, 0) - 15000) <= 1);
}

TEST_CASE("a wave that continues another takes its phase over and goes on at its own speed",
          "[reference][engine][wave]") {
    Roll roll = rig({Kind::intensity});
    const auto slow = add_wave(roll, shape(Shape::Form::rise), 1000, {0});
    const auto fast = add_wave(roll, shape(Shape::Form::rise), 400, {0});
    roll.waves[fast].continues = slow;
    const bool slow_ran = GENERATE(true, false);
    add_cue(roll, {}, {{0, full, slow_ran ? slow : none}}).starts =
        slow_ran ? std::vector{slow} : std::vector<std::uint32_t>{};
    add_cue(roll, {}, {{0, full, fast}}).starts = {fast};
    Engine engine(roll);
    engine.go(0);
    engine.go(3 * second + second / 4);
    engine.advance(3 * second + second / 4 + second / 10);  // a quarter of the fast period
    CHECK(std::abs(value(engine, 0) - (slow_ran ? 32768 : 16384)) <= 2);
}

TEST_CASE("a wave that a later cue brings back runs as if it had never stopped",
          "[reference][engine][wave]") {
    Roll roll = rig({Kind::intensity});
    const auto wave = add_wave(roll, shape(Shape::Form::rise), 1000, {0});
    add_cue(roll, {}, {{0, full, wave}}).starts = {wave};
    add_cue(roll, {}, {{0, 12345}});
    add_cue(roll, {}, {{0, full, wave}});
    Engine engine(roll);
    engine.go(0);
    engine.go(second / 3);
    engine.advance(second / 2);
    CHECK(value(engine, 0) == 12345);
    engine.go(2 * second);
    engine.advance(2 * second + second / 2);
    CHECK(std::abs(value(engine, 0) - 32768) <= 1);
}

TEST_CASE("after back, waves that still run keep their phase and others begin", "[reference][engine][wave]") {
    // The second cue takes the wave out at once, or over ten seconds.
    const auto [out, due] = GENERATE(table<std::uint64_t, int>({{0, full / 6}, {10000, 32768}}));
    Roll roll = rig({Kind::intensity, Kind::intensity});
    const auto wave = add_wave(roll, shape(Shape::Form::rise), 1000, {0, 0});
    add_cue(roll, {}, {{0, full, wave}}).starts = {wave};
    add_cue(roll, {0, out, out, Curve::linear}, {{0, 0}});
    Engine engine(roll);
    engine.go(0);
    engine.go(second);
    engine.advance(2 * second);
    engine.back(2 * second + second / 3);
    engine.advance(2 * second + second / 2);
    CHECK(std::abs(value(engine, 0) - due) <= 1);
}

TEST_CASE("a jump finds a wave where straight play would have it if all times between are fixed",
          "[reference][engine][wave]") {
    // The wave begins in cue 1; cue 2 comes by itself 2.25 s later, cue 3 by itself or by hand.
    Roll roll = rig({Kind::intensity, Kind::intensity});
    const auto wave = add_wave(roll, shape(Shape::Form::rise), 1000, {0});
    Cue& first = add_cue(roll, {}, {{0, full, wave}});
    first.starts = {wave};
    first.next = Next::next_at;
    first.next_ms = 2250;
    Cue& then = add_cue(roll, {}, {{1, full}});
    const bool by_itself = GENERATE(true, false);
    if (by_itself) then.next = Next::follow;
    then.next_ms = by_itself ? 500 : 0;
    add_cue(roll, {}, {{1, 0}});
    Playing play(roll);
    play.engine.go_to(0, 1, 7 * second);
    CHECK(std::abs(play.at(7 * second) - full / 4) <= 1);
    play.engine.stop(0, 0, 7 * second + 1);
    CHECK(play.at(7 * second + 1) == 0);
    play.engine.go_to(0, 2, 9 * second);
    CHECK(std::abs(play.at(9 * second) - (by_itself ? full * 3 / 4 : 0)) <= 1);
    CHECK(std::abs(play.at(9 * second + second / 5) - (by_itself ? full * 19 / 20 : full / 5)) <= 1);
}

TEST_CASE("a wave counts with the middle of its range when rising is told from falling",
          "[reference][engine][wave]") {
    // From 30000 to a wave with its middle above or below; rising takes four seconds, falling one.
    const auto [high, time] = GENERATE(table<int, Tick>({{65535, 4 * second}, {50000, second}}));
    Roll roll = rig({Kind::intensity});
    const auto wave = add_wave(roll, shape(Shape::Form::square), 100000, {0}, 0, high);
    add_cue(roll, {}, {{0, 30000}});
    add_cue(roll, {0, 4000, 1000, Curve::linear}, {{0, full, wave}}).starts = {wave};
    Engine engine(roll);
    engine.go(0);
    engine.go(0);
    engine.advance(time / 2);
    CHECK(std::abs(value(engine, 0) - (30000 + high) / 2) <= 1);
    engine.advance(time);
    CHECK(value(engine, 0) == high);
}
