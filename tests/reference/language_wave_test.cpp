// Shows from their text to their slots: the shapes of waves, and how they run across a selection. Source:
// "Waves" of SEMANTICS and "Waves in numbers" of grammar/LANGUAGE.md. Phases are exact fractions, so that
// edges are; the waveforms are computed apart, in real numbers.
#include <catch2/catch.hpp>
#include <set>

#include "tests/support/played.hpp"
#include "tests/support/rational.hpp"
#include "tests/support/shapes.hpp"

using tallow::test::Played;
using tallow::test::Rational;
using tallow::test::Shape;

namespace {

constexpr int ticks_per_ms = 40;

// `row 1..N`: 16-bit intensities.
std::string rig(int members) {
    return "type fine\n    mode  m   intensity intensity.fine\npatch 1/1\n    row 1.." +
           std::to_string(members) + "  fine\n";
}

std::string member(int i) {
    return "row/" + std::to_string(i + 1) + "/intensity";
}

Shape shape(Shape::Form form) {
    Shape s;
    s.form = form;
    s.duty = Rational(3, 10);
    s.seed = 7;
    s.points = {{0, 0}, {Rational(1, 5), 65535}, {Rational(3, 5), 65535}, {Rational(4, 5), 13107}};
    return s;
}

struct Form {
    std::string words;
    Shape::Form form;
};
const std::vector<Form> forms = {
    {"sine", Shape::Form::sine},
    {"triangle", Shape::Form::triangle},
    {"rise", Shape::Form::rise},
    {"fall", Shape::Form::fall},
    {"square  duty 30%", Shape::Form::square},
    {"points 0% 0%, 20% full, 60% full, 80% 20%", Shape::Form::points},
    {"flicker  seed 7", Shape::Form::flicker},
};

// The wave on six members, two turns long, at times that meet every edge and their neighbours.
template <class Due>
void compare(Played& play, std::uint64_t period, Due due) {
    play.go(0);
    for (std::uint64_t t = 0; t <= 2 * period * ticks_per_ms; t += period * ticks_per_ms / 120)
        for (const std::uint64_t at : {t - 1, t, t + 1}) {
            if (t == 0 && at != 0) continue;
            play.at(at / ticks_per_ms, at % ticks_per_ms);
            const Rational turns(static_cast<std::int64_t>(at),
                                 static_cast<std::int64_t>(period * ticks_per_ms));
            for (int i = 0; i < 6; ++i) play.nearly(member(i), due(turns, i));
        }
}

}  // namespace

TEST_CASE("each waveform runs over its turn as its formula says, edges included",
          "[reference][language][wave]") {
    const Form form = GENERATE(from_range(forms));
    CAPTURE(form.words);
    Played play(rig(6) + "wave w  " + form.words +
                "  period 600ms  wavelength 6\n    intensity 20% .. full\ncue 1 cut\n    row  80%  wave w\n");
    const Shape s = shape(form.form);
    compare(play, 600, [&](Rational turns, int i) {
        const Rational offset = Rational(-i, 6).fraction();
        return 0.8L * (0.2L + 0.8L * s.at(turns + offset, static_cast<std::uint32_t>(i)));
    });
}

TEST_CASE("each travel gives every member its distance", "[reference][language][wave]") {
    // d(i): i forward; −i backward; |i − (n−1)/2| outward; the negative of that inward.
    struct Travel {
        std::string word;
        int doubled[6];
    };
    const Travel travel = GENERATE(values<Travel>({{"forward", {0, 2, 4, 6, 8, 10}},
                                                   {"backward", {0, -2, -4, -6, -8, -10}},
                                                   {"outward", {5, 3, 1, 1, 3, 5}},
                                                   {"inward", {-5, -3, -1, -1, -3, -5}}}));
    const Form form = GENERATE(from_range(forms));
    CAPTURE(travel.word, form.words);
    Played play(rig(6) + "wave w  " + form.words + "  period 600ms  wavelength 2.5  travel " + travel.word +
                "\n    intensity out .. full\ncue 1 cut\n    row  full  wave w\n");
    const Shape s = shape(form.form);
    compare(play, 600, [&](Rational turns, int i) {
        return s.at(turns + Rational(-travel.doubled[i], 5).fraction(), static_cast<std::uint32_t>(i));
    });
}

TEST_CASE("a scattered travel is the documented order of its seed", "[reference][language][wave]") {
    // grammar/LANGUAGE.md, "Scattered"; the orders were computed apart, from its text.
    struct Row {
        int seed;
        std::vector<int> order;
    };
    const Row row = GENERATE(values<Row>({{7, {0, 4, 1, 2, 3}},
                                          {0, {3, 5, 6, 4, 1, 0, 2, 7}},
                                          {3, {7, 0, 4, 6, 3, 2, 1, 5}},
                                          {0, {1, 0}},
                                          {1, {2, 3, 4, 0, 10, 11, 6, 8, 7, 1, 9, 5}},
                                          {5, {0}}}));
    const int n = static_cast<int>(row.order.size());
    Played play(rig(n) + "wave w  fall  period 1s  wavelength " + std::to_string(n) +
                "  travel scattered  seed " + std::to_string(row.seed) +
                "\n    intensity out .. full\ncue 1 cut\n    row  full  wave w\n");
    play.go(0);
    std::set<int> places;
    for (int i = 0; i < n; ++i) {
        // At the GO f = 1 − d/n (or 0), so that a fall stands at d/n (or full).
        const int d = row.order[static_cast<std::size_t>(i)];
        play.nearly(member(i), d == 0 ? 1 : static_cast<long double>(d) / n);
        places.insert(play.slot(member(i)));
    }
    CHECK(places.size() == row.order.size());
}

TEST_CASE("the wave's phase, its component's and the line's own add up", "[reference][language][wave]") {
    Played play(rig(6) + R"(
wave w  rise  period 600ms  phase 90deg
    intensity  out .. full  phase 120deg
wave v  rise  period 600ms
    intensity  out .. full
cue 1 cut
    row        full  wave v
    row 1      wave w
    row 2      wave w  phase 30deg
    row 3      wave w  phase -250deg
    row 4      wave v  phase 36deg
    row 5      wave w  phase 720deg
)");
    const Rational phase[6] = {Rational(210, 360), Rational(240, 360), Rational(-40, 360),
                               Rational(36, 360),  Rational(210, 360), 0};
    compare(play, 600, [&](Rational turns, int i) { return (turns + phase[i]).fraction().real(); });
}

TEST_CASE("`swing` draws both ends toward their middle", "[reference][language][wave]") {
    // Each end keeps s of its distance from the middle.
    const int swing = GENERATE(0, 25, 50, 100);
    Played play(rig(6) + "wave w  triangle  period 600ms  swing " + std::to_string(swing) +
                "%\n    intensity 30% .. 90%\ncue 1 cut\n    row  full  wave w\n");
    const Shape s = shape(Shape::Form::triangle);
    compare(play, 600,
            [&](Rational turns, int) { return 0.6L + swing / 100.0L * (-0.3L + 0.6L * s.at(turns, 0)); });
}

TEST_CASE("a square with any duty is high for exactly that part of its turn", "[reference][language][wave]") {
    const int duty = GENERATE(0, 1, 37, 50, 99, 100);
    CAPTURE(duty);
    Played play(rig(1) +
                "wave w  square  period 1s  duty 50%\n    intensity out .. full\ncue 1 cut\n    row 1  "
                "full  wave w  duty " +
                std::to_string(duty) + "%\n");
    play.go(0);
    for (std::uint64_t turn = 0; turn < 3; ++turn) {
        const std::uint64_t edge = static_cast<std::uint64_t>(duty) * 10;
        play.at(turn * 1000).exactly(member(0), duty > 0);
        if (duty > 0) play.at(turn * 1000 + edge - 1, 39).exactly(member(0), 1);
        play.at(turn * 1000 + edge).exactly(member(0), duty == 100);
        play.at(turn * 1000 + 999, 39).exactly(member(0), duty == 100);
    }
}

TEST_CASE("a flicker's members each have their own noise, chosen by the seed",
          "[reference][language][wave]") {
    // Values at whole turns computed apart, from the text of grammar/LANGUAGE.md, "Flicker".
    constexpr int due[3][4] = {
        {37375, 17476, 12783, 53926}, {21052, 8627, 17591, 17577}, {63532, 58284, 18577, 5030}};
    Played play(rig(3) +
                "wave w  flicker  seed 7  period 400ms\n    intensity out .. full\ncue 1 cut\n    row  "
                "full  wave w  seed 11\n");
    play.go(0);
    for (std::uint64_t turn = 0; turn < 4; ++turn) {
        play.at(turn * 400);
        for (int i = 0; i < 3; ++i) play.nearly(member(i), due[i][turn] / 65535.0L);
        play.at(turn * 400 + 100);
        if (turn == 3) break;
        for (int i = 0; i < 3; ++i)
            play.nearly(member(i), (due[i][turn] * 0.75L + due[i][turn + 1] * 0.25L) / 65535.0L);
    }
}

TEST_CASE("sines 120 degrees apart in a wave's lines always add up to one and a half",
          "[reference][language][wave]") {
    Played play(R"(
type wash
    emitter red   xy 0.690 0.308   95 lm
    emitter green xy 0.190 0.715  150 lm
    emitter blue  xy 0.145 0.045   30 lm
    mode  m   intensity red red.fine green green.fine blue blue.fine
patch 1/1
    row 1..5  wash
wave rainbow  sine  period 777ms  wavelength 3
    red     out .. full
    green   out .. full   phase 120deg
    blue    out .. full   phase 240deg
cue 1 cut
    row  full  wave rainbow
)");
    play.go(0);
    for (std::uint64_t t = 0; t < 3000; t += 13) {
        play.at(t, t % 40);
        for (int i = 1; i <= 5; ++i) {
            const std::string key = "row/" + std::to_string(i);
            const int sum = play.slot(key + "/red") + play.slot(key + "/green") + play.slot(key + "/blue");
            CHECK(std::abs(2 * sum - 3 * 65535) <= 6);
        }
        // And members a wavelength apart are equal.
        CHECK(play.slot("row/1/red") == play.slot("row/4/red"));
        CHECK(play.slot("row/2/green") == play.slot("row/5/green"));
    }
}

TEST_CASE("members a whole wavelength apart are equal at all times", "[reference][language][wave]") {
    for (const Form& form : forms) {
        if (form.form == Shape::Form::flicker) continue;  // each member has noise of its own
        const std::string travel = GENERATE("forward", "backward", "outward", "inward");
        CAPTURE(form.words, travel);
        Played play(rig(8) + "wave w  " + form.words + "  period 601ms  wavelength 3  travel " + travel +
                    "\n    intensity out .. full\ncue 1 cut\n    row  full  wave w\n");
        play.go(0);
        const bool mirrored = travel == "outward" || travel == "inward";
        for (std::uint64_t t = 0; t < 1300; t += 7) {
            play.at(t);
            for (int i = 0; i < 4; ++i) {
                const int other = mirrored ? 7 - i : i + 3;
                CHECK(play.slot(member(i)) == play.slot(member(other)));
            }
        }
    }
}

TEST_CASE("without a wavelength all members move together", "[reference][language][wave]") {
    const std::string travel = GENERATE("forward", "outward", "scattered");
    Played play(rig(4) + "wave w  sine  period 1s  travel " + travel +
                "\n    intensity out .. full\ncue 1 cut\n    row  full  wave w\n");
    play.go(0);
    for (std::uint64_t t = 0; t < 1000; t += 51) {
        play.at(t);
        for (int i = 1; i < 4; ++i) CHECK(play.slot(member(i)) == play.slot(member(0)));
    }
}

TEST_CASE("the mean of a sine over whole turns is the middle of its ends", "[reference][language][wave]") {
    Played play(rig(1) +
                "wave w  sine  period 1s  phase 50deg\n    intensity 10% .. 70%\ncue 1 cut\n    row 1  "
                "full  wave w\n");
    play.go(0);
    std::int64_t sum = 0;
    for (std::uint64_t t = 0; t < 3000; t += 5) sum += play.at(t).slot(member(0));
    CHECK(std::abs(sum / 600 - 26214) <= 2);
}

TEST_CASE("the order of a selection is the order of its wave", "[reference][language][wave]") {
    // LANGUAGE, "Groups and selections".
    struct Row {
        std::string selection;
        std::vector<int> members;
    };
    const Row row = GENERATE(values<Row>({{"row", {0, 1, 2, 3, 4, 5}},
                                          {"row 6..1", {5, 4, 3, 2, 1, 0}},
                                          {"row 2, 5, 1", {1, 4, 0}},
                                          {"row even", {1, 3, 5}},
                                          {"row 1..6 every 3", {0, 3}},
                                          {"row 3, 4, 3, 1", {2, 3, 0}},
                                          {"late, row 1..2", {5, 3, 0, 1}},
                                          {"row except late", {0, 1, 2, 4}}}));
    CAPTURE(row.selection);
    Played play(rig(6) +
                "group late  row 6, 4\nwave w  rise  period 1s  wavelength 10\n    intensity out .. "
                "full\ncue 1 cut\n    " +
                row.selection + "  full  wave w\n");
    play.go(0).at(900);
    for (std::size_t i = 0; i < row.members.size(); ++i)
        play.nearly(member(row.members[i]), 0.9L - 0.1L * static_cast<long double>(i));
}
