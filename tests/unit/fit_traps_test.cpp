// Fixtures that look alike and are not: none of them may be called a gang without loss.
#include <catch2/catch.hpp>

#include "tests/support/fit_show.hpp"

using namespace tallow;
using test::FitShow;

namespace {

const std::string hall = "desk hall\n    layout  wide  512 channels  1 scene\n";
const std::string rig =
    "patch 1/1\n    front 1..4  dimmer\n    side 1..4  par-rgb\n    cyc 1..2  strip-4\n    head 1..2  "
    "head\n" +
    hall;

// Both are brought up as one, and then what stands in `more`.
bool ganged(const std::string& more, const std::string& a = "front 1", const std::string& b = "front 2") {
    return FitShow(rig + "cue 1  fade 3s\n    front  50%\n    side  #ffb000  50%\n    cyc  #ffb000  50%\n" +
                   more)
        .ganged(a, b);
}

}  // namespace

TEST_CASE("fixtures that do the same share an address", "[unit][desk][fit]") {
    CHECK(ganged(""));
    CHECK(ganged("", "side 1", "side 4"));
    CHECK(ganged("cue 2  fade 2s\n    front 1  70%\n    front 2  70%\n"));  // on lines of their own
    CHECK(ganged("cue 2  cut  cue-only\n    front 1..2  full\ncue 3  block\n    front 1..2  20%\n"));
    CHECK(ganged("wave swell  sine  period 4s\n    intensity  20% .. full\ncue 2\n    front  wave swell\n"));
    CHECK(
        ganged("wave swell  sine  period 4s  wavelength 2\n    intensity  20% .. full\ncue 2\n"
               "    front  wave swell\n",
               "front 1", "front 3"));  // a whole wavelength apart, and so again among the two that are left
    CHECK(ganged(
        "chase run  every 1s  loop\n    step 1  front 1..2  full\n    step 2  front 3..4  full\ncue 2\n"
        "    chase run\n"));
}

TEST_CASE("fixtures that differ in one thing alone keep their addresses", "[unit][desk][fit]") {
    CHECK_FALSE(ganged("cue 2\n    front 1  51%\n    front 2  52%\n"));
    CHECK_FALSE(ganged("cue 2  fade 2s\n    front 1  70%\n    front 2  70%  fade 3s\n"));
    CHECK_FALSE(ganged("cue 2  fade 2s\n    front 1  70%\n    front 2  70%  delay 1s\n"));
    CHECK_FALSE(ganged("cue 2  fade 2s\n    front 1  70%\ncue 3  fade 2s\n    front 2  70%\n"));
    CHECK_FALSE(ganged("cue 2\n    front  70%  delay 0s .. 2s\n"));
    CHECK_FALSE(ganged("cue 2\n    front  70%  fade 1s .. 2s\n"));
    CHECK_FALSE(ganged("cue 2\n    front  20% .. 80%\n"));
    CHECK_FALSE(ganged("cue 2  cut  cue-only\n    front 2  full\n"));
    CHECK_FALSE(ganged("cue 2  cut  block\n    front 2  50%\n"));
    CHECK_FALSE(ganged("submaster 1\n    front 2  full\n"));
    CHECK_FALSE(ganged("safety\n    keep  front 2  above 5%\n"));
    CHECK_FALSE(ganged("look exit\n    front 2  full\nsafety\n    panic  look exit\n"));
    CHECK_FALSE(ganged("list side\ncue 1\n    front 2  50%\n"));
    // Stated again while it may still be on its way from cue 1, it takes this cue's time.
    CHECK_FALSE(ganged("cue 2  fade 1s\n    front 2  50%\n"));
    CHECK_FALSE(
        ganged("chase run  every 1s  loop\n    step 1  front 1  full\n    step 2  front 2  full\ncue 2\n"
               "    chase run\n"));
    CHECK_FALSE(
        ganged("chase run  every 1s  loop\n    step 1  front 1..2  full\n    step 2  front 2  full\ncue 2\n"
               "    chase run\n"));
}

TEST_CASE("waves are the same in phase, place and clock alone", "[unit][desk][fit]") {
    const auto with = [](const std::string& wave, const std::string& cues) {
        return ganged("wave swell  " + wave + "\n    intensity  20% .. full\n" + cues);
    };
    const std::string all = "cue 2\n    front  wave swell\n";
    CHECK_FALSE(with("sine  period 4s  wavelength 4", all));
    CHECK_FALSE(with("sine  period 4s  wavelength 4  travel backward", all));
    CHECK_FALSE(with("sine  period 4s  wavelength 4  travel scattered  seed 3", all));
    CHECK_FALSE(with("flicker  period 4s", all));
    CHECK_FALSE(
        with("sine  period 4s", "cue 2\n    front 1  wave swell\n    front 2  wave swell  phase 90deg\n"));
    CHECK_FALSE(
        with("sine  period 4s", "cue 2\n    front 1  wave swell\n    front 2  wave swell  period 5s\n"));
    CHECK_FALSE(
        with("sine  period 4s", "cue 2\n    front 1  wave swell\n    front 2  wave swell  swing 50%\n"));
    CHECK_FALSE(with("sine  period 4s", "cue 2\n    front 1  wave swell\ncue 3\n    front 2  wave swell\n"));
    // One that goes on in a new speed from its phase, and one that begins anew.
    CHECK_FALSE(with("sine  period 4s",
                     "cue 2\n    front 1  wave swell\ncue 3\n    front 1  wave swell  period 6s\n"
                     "    front 2  wave swell  period 6s\n"));
    // In step by themselves; but a gang counts once, and the wave would run over two in place of four.
    CHECK_FALSE(ganged(
        "wave swell  sine  period 4s  wavelength 4  travel outward\n    intensity  20% .. full\n" + all,
        "front 1", "front 4"));
}

TEST_CASE("a gang that would move others in a row by places is none", "[unit][desk][fit]") {
    // `row odd` takes every other place: 1 and 3 of front 1, 2, 3 and side 1.
    CHECK_FALSE(ganged("group row  front 1, 2, 3, side 1\ncue 2\n    row odd  70%\n"));
    CHECK_FALSE(
        ganged("cue 2\n    side 3..4  70%\ncue 3\n    side 1, 2, 3, 4  10% .. 40%\n", "side 1", "side 2"));
    CHECK(ganged("cue 2\n    side  10% .. 40%\n"));  // of the others alone
}

TEST_CASE("colours, positions and other values count", "[unit][desk][fit]") {
    CHECK_FALSE(ganged("cue 2\n    side 2  #ffb100\n", "side 1", "side 2"));
    CHECK_FALSE(ganged("cue 2\n    side 2  emitter red 20%\n", "side 1", "side 2"));
    CHECK_FALSE(ganged("cue 2\n    head  #ffb000  20%\n    head 2  pan 20deg\n", "head 1", "head 2"));
    // What no light shows is not missed: both stand where they should once they are lit.
    CHECK(ganged("cue 2\n    head 2  pan 20deg\ncue 3\n    head  pan 20deg  #ffb000  full\n", "head 1",
                 "head 2"));
}

TEST_CASE("cells that agree at all times are one, others are not", "[unit][desk][fit]") {
    const auto mode = [](const std::string& more) {
        return FitShow(rig + "cue 1\n    cyc  #ffb000  50%\n" + more).mode("cyc 1");
    };
    CHECK(mode("") == "whole");
    CHECK(mode("cue 2\n    cyc cells  70%\n") == "whole");
    CHECK(mode("wave w  sine  period 3s\n    intensity  20% .. full\ncue 2\n    cyc cells  wave w\n") ==
          "whole");
    CHECK(mode("wave w  sine  period 3s  wavelength 4\n    intensity  20% .. full\ncue 2\n    cyc cells  "
               "wave w\n") == "cells");
    CHECK(mode("cue 2\n    cyc 1 cell 2  70%\n") == "cells");
    CHECK(mode("cue 2\n    cyc cells  70%  delay 0s .. 1s\n") == "cells");
    CHECK(mode("cue 2\n    cyc cells odd  emitter red 20%\n") == "cells");
    CHECK(mode("submaster 1\n    cyc cells odd  70%\n") == "cells");
}

TEST_CASE("slots that do nothing are given up, others are not", "[unit][desk][fit]") {
    const std::string type =
        "type wash\n    mode  long   intensity red green blue white strobe\n"
        "    mode  short  intensity red green blue\n    mode  bare   red green blue\n"
        "    range strobe  open 0..9  rate 10..255 is 1Hz..20Hz\n"
        "type flash\n    mode  one  intensity strobe\n"
        "    range strobe  open 0..9  rate 10..255 is 1Hz..20Hz\n"
        "palette pure  blue full\npalette mixed  blue 80% red 20%\n"
        "patch 1/1\n    wash 1..2  wash long\n    flash  flash\n" +
        hall;
    const auto mode = [&](const std::string& cues) { return FitShow(type + cues).mode("wash 1"); };
    const std::string blue = "    wash  pure  50%\n";
    CHECK(mode("cue 1\n" + blue) ==
          "bare");  // full or out: the intensity is as good on the emitters themselves
    CHECK(mode("cue 1\n    wash  mixed  50%\n") == "short");
    CHECK(mode("cue 1\n    wash  50%\n") == "long");  // no colour yet: white shines
    CHECK(mode("cue 1\n    wash  50%\ncue 2\n" + blue) == "long");
    CHECK(mode("cue 1\n" + blue + "cue 2\n    wash 1  emitter white 10%\n") == "long");
    CHECK(mode("cue 1\n" + blue + "cue 2\n    wash 1, flash  strobe 4Hz\n") == "long");
    CHECK(mode("cue 1\n" + blue + "cue 2\n    wash 1, flash  strobe open\n") == "bare");
    CHECK(mode("cue 1\n" + blue + "submaster 1\n    wash  full\n") == "long");  // raised first: white
    CHECK(mode("cue 1\n" + blue + "cue 2  fade 3s  block\n") == "long");        // white on its way out
    CHECK(mode("safety\n    keep  wash  above 10%\ncue 1\n" + blue) == "long");
    const std::string panic = "safety\n    panic  look exit\nlook exit\n    wash  ";
    CHECK(mode(panic + "full\ncue 1\n" + blue) == "long");  // struck first: white
    CHECK(mode(panic + "pure\ncue 1\n" + blue) == "bare");  // as in the cue, and no light of its own
    CHECK(mode(panic + "strobe 4Hz\ncue 1\n" + blue) == "long");
}
