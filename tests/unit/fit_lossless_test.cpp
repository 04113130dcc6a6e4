// What is said to lose nothing loses nothing: both shows are played by the real engine, and the light of
// every fixture is read out of the slots by the words of the two texts.
#include <catch2/catch.hpp>
#include <fmt/format.h>

#include "runtime/files.hpp"
#include "tests/support/fit_show.hpp"
#include "tests/support/slot_reader.hpp"

using namespace tallow;
using test::Files;
using test::FitShow;
using test::Random;

namespace {

const std::string hall =
    "desk hall\n    layout  pair  24 channels  2 scenes\n    layout  wide  96 channels  1 scene\n";

std::string read(const std::string& path) {
    const auto bytes = runtime::read_file(std::string(TALLOW_SOURCE_DIR) + "/examples/" + path, 1u << 20);
    REQUIRE(bytes.ok());
    return *bytes;
}

// All ways compile, and those without loss play as the show does.
std::size_t check_ways(const FitShow& fit, std::uint64_t seed) {
    std::size_t lossless = 0;
    for (std::size_t way = 0; way < fit.ways.size(); ++way) {
        const Files after = fit.with_patch(way);
        INFO("way " << way + 1 << "\n" << fit.files.at("main.tallow") << "\n---\n" << fit.patch(way));
        if (!fit.ways[way].lossless) {
            test::compile_files(after);
            continue;
        }
        ++lossless;
        CHECK(test::play_both(fit.files, after, seed) == "");
    }
    return lossless;
}

class ShowMaker {
  public:
    explicit ShowMaker(std::uint64_t seed) : random_(seed) {}

    std::string make() {
        add("type wash");
        add("    mode   long   intensity red green blue white zoom strobe");
        add("    mode   short  red green blue white");
        add("    mode   mid    intensity red green blue");
        add("    range  strobe  open 0..9  rate 10..255 is 1Hz..20Hz");
        add("type eight");
        add("    mode   cells  8 x (red green blue)");
        add("    mode   four   4 x (red green blue)");
        add("    mode   whole  intensity red green blue");
        add("patch 1/1");
        add("    front 1..6  dimmer");
        add("    side 1..4  par-rgbw dimmed");
        if (random_.one_in(2)) add("    lamp  dimmer  at 1/400");
        add("    cyc 1..2  strip-4");
        add("patch 2/1");
        add("    wash 1..4  wash long");
        add("    bar 1..2  eight");
        if (random_.one_in(2)) add("    twin 1..2  par-rgb  ganged");
        add("    head 1..2  head");
        add("group row  front 1..3, side 1..2, wash");
        add("palette amber  #ffb000\npalette pure  blue full\npalette place  pan 20deg  tilt -10deg");
        add("wave swell  sine  period 3s\n    intensity  20% .. full");
        add("wave run  triangle  period 2s  wavelength 2\n    intensity  10% .. full");
        add("wave mirror  rise  period 2s  wavelength 4  travel outward\n    intensity  out .. full");
        add("wave candle  flicker  period 400ms\n    intensity  60% .. full");
        add("chase steps  every 700ms  fade 300ms  loop\n    step 1  front odd  full\n    step 2  front even "
            " full\n"
            "    step 2  side  amber  40%");
        if (random_.one_in(3)) add("submaster 1\n    " + who() + "  " + level());
        add("safety");
        if (random_.one_in(4)) add("    keep  front 1..2  above 5%");
        if (random_.one_in(4)) add("    panic  look exit\nlook exit\n    " + who() + "  " + level());
        for (int cue = 1; cue <= 8; ++cue) add_cue(cue);
        if (random_.one_in(3)) {
            add("list side");
            for (int cue = 1; cue <= 3; ++cue) add_cue(cue);
        }
        return text_ + hall;
    }

  private:
    void add(const std::string& line) { text_ += line + "\n"; }

    // Mostly whole names, so that some do the same.
    std::string who() {
        static const std::vector<std::string> all{
            "front",  "front",     "side",    "side",      "cyc",  "cyc cells",
            "wash",   "wash",      "bar",     "bar cells", "head", "front 1..3",
            "side 2", "wash 1..2", "row odd", "front odd", "all",  "cyc cells odd"};
        return random_.one_of(all);
    }

    std::string level() { return fmt::format("{}%", 10 * random_.below(11)); }

    std::string setting() {
        switch (random_.below(14)) {
            case 0:
                return "amber  " + level();
            case 1:
            case 2:
                return "pure  " + level();
            case 3:
                return level() + "  wave swell";
            case 4:
                return level() + "  wave run";
            case 5:
                return random_.one_in(2) ? level() + "  wave mirror" : level() + "  wave candle";
            case 6:
                return "20% .. 80%";
            case 7:
                return level() + "  delay 0s .. 1s";
            case 8:
                return level() + "  fade 2s";
            default:
                return level();
        }
    }

    void add_cue(int number) {
        static const std::vector<std::string> more{"",     "", "", "  cue-only", "  block", "  delay 500ms",
                                                   "  cut"};
        std::string header = random_.one_of(more);
        if (header.find("cut") == std::string::npos) header += fmt::format("  fade {}s", random_.below(4));
        add(fmt::format("cue {}{}", number, header));
        const int lines = 1 + random_.below(3);
        for (int i = 0; i < lines; ++i) {
            const std::string selection = who(), says = setting();
            const bool dims_alone = selection.find("front") != std::string::npos;
            add("    " + selection + "  " +
                (dims_alone && (says[0] == 'a' || says[0] == 'p') ? level() : says));
        }
        if (random_.one_in(4)) add("    wash  strobe open");
        if (random_.one_in(4)) add("    head  place");
        if (random_.one_in(6)) add(random_.one_in(2) ? "    chase steps" : "    chase steps off");
    }

    Random random_;
    std::string text_;
};

}  // namespace

TEST_CASE("ways of the examples without loss play the same light", "[unit][desk][fit]") {
    const Files orchard{{"main.tallow", read("orchard-clock/show.tallow")},
                        {"rig.tallow", read("orchard-clock/rig.tallow")}};
    const FitShow fit(orchard);
    CHECK(check_ways(fit, 1) == 2);
    CHECK(fit.best().channels == 31);  // by hand: front 1 and 4, 2 and 3, and back 1 and 2 do the same
    Files harbour{{"main.tallow", read("harbour-night/show.tallow") + hall},
                  {"rig.tallow", read("harbour-night/rig.tallow")}};
    CHECK(check_ways(FitShow(harbour), 2) > 0);
}

TEST_CASE("what 100 random shows are fitted to without loss plays the same light", "[unit][desk][fit]") {
    std::size_t lossless = 0, saved = 0, modes = 0;
    for (std::uint64_t seed = 1; seed <= 100; ++seed) {
        INFO("seed " << seed);
        const FitShow fit(ShowMaker(seed).make());
        lossless += check_ways(fit, seed);
        const fit::Plan present = fit::as_patched(fit.compiled->show);
        saved += fit::slots_of(fit.compiled->show, present) - fit.best().channels;
        modes += fit.best().plan.mode != present.mode;
    }
    CHECK(lossless > 200);  // beside the show as it is patched
    CHECK(saved > 4000);
    CHECK(modes > 50);
}

TEST_CASE("a way that is said to lose something does", "[unit][desk][fit]") {
    std::size_t seen = 0;
    for (std::uint64_t seed = 1; seed <= 20; ++seed) {
        const FitShow fit(ShowMaker(seed).make());
        for (std::size_t way = 0; way < fit.ways.size(); ++way) {
            if (fit.ways[way].worst < 0.3) continue;
            ++seen;
            CHECK_FALSE(fit.ways[way].lost.empty());
            bool differs = false;
            for (std::uint64_t script = 0; script < 3 && !differs; ++script)
                differs = !test::play_both(fit.files, fit.with_patch(way), script).empty();
            INFO(fit.files.at("main.tallow") << fit.patch(way));
            CHECK(differs);
        }
    }
    CHECK(seen > 10);
}
