// The marks that tell what a roll does to each parameter: equal for what is the same at all times, and not
// for what differs in one thing.
#include "compiler/fit/history.hpp"

#include <algorithm>
#include <catch2/catch.hpp>

#include "tests/support/played.hpp"

using namespace tallow;

namespace {

struct Marks {
    explicit Marks(const std::string& cues)
        : played("patch 1/1\n    front 1..4  dimmer\n    side 1..2  par-rgb\n" + cues),
          all(fit::histories_of(played.roll())) {}

    const fit::History& of(const std::string& key) const {
        const auto& keys = played.roll().parameters.key;
        const auto at = std::find(keys.begin(), keys.end(), key);
        REQUIRE(at != keys.end());
        return all[static_cast<std::size_t>(at - keys.begin())];
    }
    bool alike(const std::string& a, const std::string& b) const { return of(a).mark == of(b).mark; }

    test::Played played;
    std::vector<fit::History> all;
};

bool alike(const std::string& cues) {
    return Marks(cues).alike("front/1/intensity", "front/2/intensity");
}

const std::string wave = "wave swell  sine  period 4s\n    intensity  20% .. full\n";

}  // namespace

TEST_CASE("parameters of one history have one mark", "[unit][desk][fit]") {
    CHECK(alike("cue 1  fade 2s\n    front  50%\n"));
    CHECK(alike("cue 1  fade 2s\n    front 1  50%\n    front 2  50%\n"));
    CHECK(alike(wave + "cue 1\n    front 1  50%  wave swell\n    front 2  50%  wave swell\n"));
    CHECK(alike(wave + "cue 1\n    front  50%  wave swell\ncue 2\n    front  wave swell  period 6s\n"));
    CHECK(alike("submaster 2\n    front 1..2  full\ncue 1\n    front 3  full\n"));
}

TEST_CASE("histories that differ in one thing have two marks", "[unit][desk][fit]") {
    CHECK_FALSE(alike("cue 1\n    front 1  50%\n    front 2  51%\n"));
    CHECK_FALSE(alike("cue 1\n    front 1  50%\ncue 2\n    front 2  50%\n"));
    CHECK_FALSE(alike("cue 1\n    front 1  50%\n    front 2  50%  fade 1s\n"));
    CHECK_FALSE(alike("cue 1\n    front 1  50%\n    front 2  50%  delay 1s\n"));
    CHECK_FALSE(alike("cue 1  up 2s  down 3s\n    front 1  50%\n    front 2  50%  fade 2s\n"));
    CHECK_FALSE(alike("cue 1  up 2s  down 3s\n    front 1  50%\n    front 2  50%  fade 3s\n"));
    CHECK_FALSE(alike("cue 1\n    front 1  50%\nlist side\ncue 1\n    front 2  50%\n"));
    CHECK_FALSE(
        alike("submaster 1\n    front 1  50%\nsubmaster 2\n    front 2  50%\ncue 1\n    front 3  full\n"));
    CHECK_FALSE(alike("submaster 1\n    front 1  50%\ncue 1\n    front 3  full\n"));
    CHECK_FALSE(alike("safety\n    keep  front 1  above 5%\ncue 1\n    front 3  full\n"));
    CHECK_FALSE(
        alike("look exit\n    front 1  full\nsafety\n    panic  look exit\ncue 1\n    front 3  full\n"));
    CHECK_FALSE(
        alike("look exit\n    front 1  full\n    front 2  90%\nsafety\n    panic  look exit\ncue 1\n    "
              "front  full\n"));
}

TEST_CASE("waves and chases that differ in one thing have two marks", "[unit][desk][fit]") {
    const std::string lit = "cue 1\n    front  50%\n";
    CHECK_FALSE(alike(wave + lit + "cue 2\n    front 1  wave swell\n    front 2  wave swell  period 5s\n"));
    CHECK_FALSE(alike(wave + lit + "cue 2\n    front 1  wave swell\n    front 2  wave swell  phase 5deg\n"));
    CHECK_FALSE(alike(wave + lit + "cue 2\n    front 1  wave swell\n    front 2  wave swell  swing 50%\n"));
    CHECK_FALSE(alike(wave + lit +
                      "wave other  triangle  period 4s\n    intensity  20% .. full\n"
                      "cue 2\n    front 1  wave swell\n    front 2  wave other\n"));
    CHECK_FALSE(alike("wave candle  flicker  period 1s\n    intensity  20% .. full\n" + lit +
                      "cue 2\n    front  wave candle\n"));
    // Both are stated in cues 2 and 3, and begun at other times.
    CHECK_FALSE(alike(wave + "wave twin  sine  period 4s\n    intensity  20% .. full\n" + lit +
                      "cue 2\n    front 1  wave swell\n    front 2  wave twin\n"
                      "cue 3\n    front 1  wave swell\n    front 2..3  wave twin\n"));
    const std::string chase =
        "chase run  every 1s  loop\n    step 1  front 1..2  full\n    step 2  front 1  full\n";
    CHECK_FALSE(alike(chase + lit + "cue 2\n    chase run\n"));
}

TEST_CASE("a level that never changes, as far as light shows it, is known", "[unit][desk][fit]") {
    const std::string blue = "palette pure  blue full\ncue 1  fade 2s\n    side  pure  50%\n";
    const Marks marks(blue + "cue 2\n    side 1  #ffb000\n");
    CHECK(marks.of("side/2/blue").always == runtime::full);
    CHECK(marks.of("side/2/red").always == runtime::Level{0});
    CHECK_FALSE(marks.of("side/1/red").always);
    CHECK_FALSE(marks.of("side/2/intensity").always);
    CHECK(marks.of("front/1/intensity").always == runtime::Level{0});
    // `back` aside; but timecode may take its colour away while it is lit.
    CHECK_FALSE(Marks(blue + "cue 2  timecode 00:00:10:00\n    side  20%\n").of("side/1/red").always);
    CHECK_FALSE(Marks(blue + "list more\ncue 1\n    side  20%\n").of("side/1/red").always);
}
